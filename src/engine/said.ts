/** What a sentence is made of: which it is, and what stands in it. Whoever shows it words it in the language of the reader. */
export interface Said<Code extends string = string> {
  readonly code: Code
  /** Names are the record's own, keys those of the reference tables; numbers are not rounded, their unit is told at the code. */
  readonly values: Readonly<Record<string, string | number>>
}

/** Codes, each with the names of the values that its sentence needs. */
export type CodeList = Readonly<Record<string, readonly string[]>>

/** The values of one code of a list. */
export type ValuesOf<List extends CodeList, Code extends keyof List> = Readonly<
  Record<List[Code][number], string | number>
>
