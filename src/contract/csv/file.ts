import type { Cell } from './cells.js'

/** A column: how its cells are read and written, and what an empty one stands for. */
export interface Column<T> extends Cell<T> {
  /** The value of an empty cell; without it an empty cell is refused. */
  readonly whenEmpty?: { readonly value: T }
}

type Columns = Readonly<Record<string, Column<unknown>>>

/** One of the CSV files: its columns in the order they are written, and which of them tell its rows apart. */
export interface CsvFile<C extends Columns = Columns> {
  readonly name: string
  readonly key: readonly string[]
  readonly columns: C
}

/** A row of a file, by the names of its columns. */
export type CsvRow<F extends CsvFile> = {
  [K in keyof F['columns'] & string]: F['columns'][K] extends Column<infer T> ? T : never
}

/** A file with the types of its columns kept. */
export function csvFile<const C extends Columns>(
  file: CsvFile<C> & { readonly key: readonly (keyof C & string)[] },
): CsvFile<C> {
  return file
}

/** A cell that must be filled in. */
export function needed<T>(cell: Cell<T>): Column<T> {
  return cell
}

/** A cell that may be empty: unknown. */
export function optional<T>(cell: Cell<T>): Column<T | null> {
  return {
    expects: `${cell.expects}, or empty`,
    read: cell.read,
    write: (value) => (value === null ? '' : cell.write(value)),
    whenEmpty: { value: null },
  }
}

/** A cell that stands for a stated value when it is empty. */
export function defaulted<T>(cell: Cell<T>, value: T): Column<T> {
  return { ...cell, expects: `${cell.expects}, or empty for ${JSON.stringify(value)}`, whenEmpty: { value } }
}
