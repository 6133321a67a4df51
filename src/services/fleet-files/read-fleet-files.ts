import { CSV_FILE_NAMES, type CsvFileName, csvFileNamed } from '../../contract/csv/index.js'
import { CellErrors } from '../imports/cell-errors.js'
import type { ParsedFiles, ParsedRow } from '../imports/parsed-files.js'
import { readCsv } from '../imports/reading/read-csv.js'
import { anodeKey, type FleetFileRows, fittingKey } from './recorded-fleet.js'

export interface FleetFile {
  readonly name: string
  readonly content: AsyncIterable<Uint8Array>
}

/**
 * Reads a fleet's files by the import's own rules for cells, without a database: for whoever wants to reckon with a fleet and not
 * keep it. What the import doubts (a gain, an overlap of stays) is taken as it stands.
 *
 * @throws ImportRejected with file, line, column and reason of what cannot be read, or refers to nothing
 */
export async function readFleetFiles(files: Iterable<FleetFile>): Promise<FleetFileRows> {
  const errors = new CellErrors()
  const parsed: ParsedFiles = {}
  for (const { name, content } of files) {
    const known = csvFileNamed(name)
    if (known === undefined || parsed[known]) {
      errors.add(name, null, null, known ? 'this file is there twice' : `expected ${CSV_FILE_NAMES.join(', ')}`)
      continue
    }
    Object.assign(parsed, { [known]: await readCsv(known, content, errors) })
  }
  errors.throwIfAny()
  checkReferences(parsed, errors)
  errors.throwIfAny()
  return rowsOf(parsed)
}

function rowsOf(parsed: ParsedFiles): FleetFileRows {
  const rows: FleetFileRows = {}
  for (const name of CSV_FILE_NAMES) Object.assign(rows, { [name]: valuesOf(parsed[name]?.rows) })
  return rows
}

const OF_BOATS = [
  'fittings.csv',
  'anodes.csv',
  'stays.csv',
  'haul-outs.csv',
  'weighings.csv',
  'potentials.csv',
  'continuity.csv',
] as const

function checkReferences(files: ParsedFiles, errors: CellErrors): void {
  const boats = new Set(valuesOf(files['boats.csv']?.rows).map(({ boat }) => boat))
  const berths = new Set(valuesOf(files['berths.csv']?.rows).map(({ berth }) => berth))
  const anodes = new Set(valuesOf(files['anodes.csv']?.rows).map(({ boat, anode }) => anodeKey(boat, anode)))
  for (const name of OF_BOATS) {
    for (const { line, values } of files[name]?.rows ?? [])
      if (!boats.has(values.boat)) errors.add(name, line, 'boat', `no boat is called "${values.boat}"`)
  }
  for (const { line, values } of files['stays.csv']?.rows ?? []) {
    if (values.berth !== null && !berths.has(values.berth))
      errors.add('stays.csv', line, 'berth', `no berth is called "${values.berth}"`)
  }
  const fittings = new Set(valuesOf(files['fittings.csv']?.rows).map(({ boat, fitting }) => fittingKey(boat, fitting)))
  for (const { line, values } of files['potentials.csv']?.rows ?? []) {
    if (values.fitting !== null && !fittings.has(fittingKey(values.boat, values.fitting)))
      errors.add('potentials.csv', line, 'fitting', `"${values.boat}" has no fitting called "${values.fitting}"`)
  }
  for (const { line, values } of files['weighings.csv']?.rows ?? []) {
    if (!anodes.has(anodeKey(values.boat, values.anode)))
      errors.add('weighings.csv', line, 'anode', `"${values.boat}" has no anode called "${values.anode}"`)
  }
}

function valuesOf<N extends CsvFileName>(rows: readonly ParsedRow<N>[] | undefined): ParsedRow<N>['values'][] {
  return (rows ?? []).map(({ values }) => values)
}
