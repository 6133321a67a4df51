import { pipeline } from 'node:stream/promises'
import { CsvError, parse } from 'csv-parse'
import { CSV_FILES, type CsvFileName } from '../../../contract/csv/index.js'
import type { CellErrors } from '../cell-errors.js'
import type { ParsedFile } from '../parsed-files.js'
import { decodeUtf8, NotUtf8 } from './decode-utf8.js'
import { readHeader } from './header.js'
import { RowReader } from './row-reader.js'

/** No row of these files comes near; a quote that is never closed must not swallow the memory. */
const LARGEST_RECORD_CHARACTERS = 100_000
/** What a request may bring at once: as much as a fleet of thousands of boats has in decades. */
export const MOST_ROWS = 500_000

/**
 * Reads one file to its end as it arrives. What is wrong with its form or its cells goes to `errors`; the rows come
 * back with every cell that could be read.
 */
export async function readCsv<N extends CsvFileName>(
  name: N,
  content: AsyncIterable<Uint8Array>,
  errors: CellErrors,
): Promise<ParsedFile<N>> {
  const records = new RecordReader(name, errors)
  const parser = parse({
    delimiter: ',',
    record_delimiter: ['\r\n', '\n'],
    relax_column_count: true,
    max_record_size: LARGEST_RECORD_CHARACTERS,
    on_record: (record: string[]) => {
      records.take(record)
      return null
    },
  })
  try {
    await pipeline(decodeUtf8(content), parser, async (nothing: AsyncIterable<unknown>) => {
      for await (const _ of nothing);
    })
    return records.finish()
  } catch (error) {
    if (!records.breakOff(error)) throw error
    return records.rows
  }
}

class TooManyRows extends Error {}

/** Takes the records of one file in their order, knowing on which line of the text each begins. */
class RecordReader<N extends CsvFileName> {
  readonly rows: ParsedFile<N>
  readonly #name: N
  readonly #errors: CellErrors
  #line = 1
  #reader: RowReader<N> | undefined
  #header: readonly string[] = []

  constructor(name: N, errors: CellErrors) {
    this.#name = name
    this.#errors = errors
    this.rows = { name, rows: [], rowCount: 0, incomplete: false }
  }

  take(record: string[]): void {
    const line = this.#line
    // Counted here: the parser counts CRLF within quotes as two lines.
    this.#line += 1 + record.reduce((sum, cell) => sum + newlinesIn(cell), 0)
    const isBlank = record.length === 1 && record[0] === ''
    if (this.#header.length === 0) this.#takeHeader(record)
    else if (!isBlank) this.#takeRow(record, line)
  }

  #takeRow(record: string[], line: number): void {
    if (this.rows.rowCount === MOST_ROWS) throw new TooManyRows()
    this.rows.rowCount += 1
    this.#reader?.read(record, line)
  }

  #takeHeader(record: string[]): void {
    this.#header = record.map((cell) => cell.trim().toLowerCase())
    const places = readHeader(CSV_FILES[this.#name], this.#header, this.#errors)
    if (places) this.#reader = new RowReader(this.rows, this.#header, places, this.#errors)
    else this.rows.incomplete = true
  }

  finish(): ParsedFile<N> {
    if (this.#header.length > 0) return this.rows
    return this.#refuse(1, null, 'the file is empty: expected a header row with the names of the columns')
  }

  /** @returns false when the error is not about the file */
  breakOff(error: unknown): boolean {
    if (error instanceof NotUtf8) {
      this.#refuse(error.line, null, 'not UTF-8: save the file with the encoding UTF-8 and send it again')
    } else if (error instanceof TooManyRows) {
      this.#refuse(this.#line, null, `more than ${MOST_ROWS} rows: import the file in parts`)
    } else if (error instanceof CsvError) {
      const column = 'column' in error && typeof error.column === 'number' ? this.#header[error.column] : undefined
      this.#refuse(this.#line, column ?? null, quoteTrouble(error))
    } else {
      return false
    }
    return true
  }

  #refuse(line: number, column: string | null, detail: string): ParsedFile<N> {
    this.rows.incomplete = true
    this.#errors.add(this.#name, line, column, detail)
    return this.rows
  }
}

function quoteTrouble(error: CsvError): string {
  switch (error.code) {
    case 'CSV_QUOTE_NOT_CLOSED':
      return 'a quote is opened in the row that begins here and never closed'
    case 'CSV_MAX_RECORD_SIZE':
      return 'the row that begins here does not end: is a quote left open?'
    case 'CSV_INVALID_CLOSING_QUOTE':
      return 'a quoted cell goes on after its closing quote: within quotes, a quote is written twice ("")'
    default:
      return 'a quote within a cell that does not begin with one: put the cell in quotes and write the quote twice ("")'
  }
}

function newlinesIn(text: string): number {
  let count = 0
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) count += 1
  return count
}
