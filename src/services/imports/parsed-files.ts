import type { CsvFileName, CsvRowOf } from '../../contract/csv/index.js'

/** A row as it was read. Cells that could not be read are named in `bad` and hold nothing that may be relied on. */
export interface ParsedRow<N extends CsvFileName> {
  readonly line: number
  readonly values: CsvRowOf<N>
  readonly bad: ReadonlySet<string>
}

/** One file as it was read: its rows without exact repetitions. */
export interface ParsedFile<N extends CsvFileName> {
  readonly name: N
  readonly rows: ParsedRow<N>[]
  /** Rows below the header, repetitions included. */
  rowCount: number
  /** Whether rows are missing because they could not be read: what refers to them is not to blame. */
  incomplete: boolean
}

export type ParsedFiles = { [N in CsvFileName]?: ParsedFile<N> }
