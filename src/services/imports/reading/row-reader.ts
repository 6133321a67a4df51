import { type Column, CSV_FILES, type CsvFileName, type CsvRowOf } from '../../../contract/csv/index.js'
import type { CellErrors } from '../cell-errors.js'
import type { ParsedFile } from '../parsed-files.js'

interface PlacedColumn {
  readonly name: string
  readonly at: number
  readonly column: Column<unknown>
}

const NONE_BAD: ReadonlySet<string> = new Set()

/** Reads the records of one file cell by cell, and tells rows that repeat a key. */
export class RowReader<N extends CsvFileName> {
  readonly #file: ParsedFile<N>
  readonly #width: number
  readonly #columns: readonly PlacedColumn[]
  readonly #key: readonly string[]
  readonly #errors: CellErrors
  readonly #seen = new Map<string, { line: number; values: CsvRowOf<N> }>()

  constructor(file: ParsedFile<N>, header: readonly string[], places: ReadonlyMap<string, number>, errors: CellErrors) {
    const { columns, key } = CSV_FILES[file.name]
    this.#file = file
    this.#width = header.length
    this.#columns = Object.entries<Column<unknown>>(columns).map(([name, column]) => ({
      name,
      column,
      at: places.get(name) ?? -1,
    }))
    this.#key = key
    this.#errors = errors
  }

  read(record: readonly string[], line: number): void {
    if (record.length !== this.#width) {
      this.#file.incomplete = true
      this.#refuse(line, null, widthTrouble(record.length, this.#width))
      return
    }
    const { values, bad } = this.#readCells(record, line)
    if (this.#key.some((name) => bad.has(name))) this.#file.incomplete = true
    else if (!this.#repeats(values, bad, line)) this.#file.rows.push({ line, values, bad })
  }

  #readCells(record: readonly string[], line: number) {
    const values: Record<string, unknown> = {}
    let bad: Set<string> | undefined
    for (const { name, column, at } of this.#columns) {
      const read = readCell(column, at < 0 ? '' : (record[at] ?? ''))
      values[name] = read.value
      if (read.refusal === undefined) continue
      bad ??= new Set()
      bad.add(name)
      this.#refuse(line, name, read.refusal)
    }
    // The columns are the file's own, so the record is its row.
    return { values: values as CsvRowOf<N>, bad: bad ?? NONE_BAD }
  }

  /** Whether the row's key was there before: with the same values that is nothing new, with others an error. */
  #repeats(values: CsvRowOf<N>, bad: ReadonlySet<string>, line: number): boolean {
    const cells: Record<string, unknown> = values
    const key = JSON.stringify(this.#key.map((name) => cells[name]))
    const first = this.#seen.get(key)
    if (!first) {
      this.#seen.set(key, { line, values })
      return false
    }
    if (bad.size === 0 && JSON.stringify(first.values) !== JSON.stringify(values)) {
      const named = this.#key.join(' and ')
      this.#refuse(line, this.#key[0] ?? null, `the same ${named} as on line ${first.line}, with other values`)
    }
    return true
  }

  #refuse(line: number, column: string | null, detail: string): void {
    this.#errors.add(this.#file.name, line, column, detail)
  }
}

function widthTrouble(cells: number, wanted: number): string {
  const found = `this row has ${cells} ${cells === 1 ? 'cell' : 'cells'}, the header ${wanted}`
  return cells < wanted
    ? `${found}: is a comma missing?`
    : `${found}: is there a comma in a cell that is not in quotes, or a decimal comma?`
}

function readCell(column: Column<unknown>, text: string): { value: unknown; refusal?: string } {
  if (text.trim() === '') {
    return column.whenEmpty ? column.whenEmpty : { value: null, refusal: `is empty: expected ${column.expects}` }
  }
  const result = column.read.safeParse(text)
  return result.success
    ? { value: result.data }
    : { value: null, refusal: result.error.issues[0]?.message ?? 'cannot be read' }
}
