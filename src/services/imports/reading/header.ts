import type { CsvFile } from '../../../contract/csv/index.js'
import type { CellErrors } from '../cell-errors.js'

const HEADER_LINE = 1

/**
 * Where each column of the file stands; -1 for one that is left out and counts as empty.
 *
 * @returns undefined when the header cannot be used
 */
export function readHeader(
  file: CsvFile,
  header: readonly string[],
  errors: CellErrors,
): ReadonlyMap<string, number> | undefined {
  const before = errors.count
  const known = Object.keys(file.columns)
  const refuse = (column: string | null, detail: string) => errors.add(file.name, HEADER_LINE, column, detail)
  const otherSeparator = header.length === 1 ? /[;\t]/.exec(header[0] ?? '')?.[0] : undefined
  if (otherSeparator !== undefined) {
    const found = otherSeparator === ';' ? 'semicolons' : 'tabs'
    refuse(null, `the cells are separated by ${found}: save the file with commas between them`)
    return undefined
  }
  header.forEach((name, at) => {
    if (name === '') refuse(null, `column ${at + 1} has no name`)
    else if (!known.includes(name)) refuse(name, `no column of ${file.name}: expected ${known.join(', ')}`)
    else if (header.indexOf(name) < at) refuse(name, 'this column is there twice')
  })
  for (const [name, column] of Object.entries(file.columns)) {
    const mayBeMissing = column.whenEmpty !== undefined && !file.key.includes(name)
    if (!mayBeMissing && !header.includes(name)) refuse(name, 'this column is missing')
  }
  return errors.count > before ? undefined : new Map(known.map((name) => [name, header.indexOf(name)]))
}
