import { ANODES_CSV } from './anodes.js'
import { BERTHS_CSV } from './berths.js'
import { BOATS_CSV } from './boats.js'
import { CONTINUITY_CSV } from './continuity.js'
import type { CsvRow } from './file.js'
import { FITTINGS_CSV } from './fittings.js'
import { HAUL_OUTS_CSV } from './haul-outs.js'
import { POTENTIALS_CSV } from './potentials.js'
import { STAYS_CSV } from './stays.js'
import { WEIGHINGS_CSV } from './weighings.js'

export * from './anodes.js'
export * from './berths.js'
export * from './boats.js'
export * from './continuity.js'
export * from './file.js'
export * from './fittings.js'
export * from './haul-outs.js'
export * from './potentials.js'
export * from './stays.js'
export * from './weighings.js'

/** The files of a fleet, each after those it refers to. */
export const CSV_FILES = {
  'berths.csv': BERTHS_CSV,
  'boats.csv': BOATS_CSV,
  'fittings.csv': FITTINGS_CSV,
  'anodes.csv': ANODES_CSV,
  'stays.csv': STAYS_CSV,
  'haul-outs.csv': HAUL_OUTS_CSV,
  'weighings.csv': WEIGHINGS_CSV,
  'potentials.csv': POTENTIALS_CSV,
  'continuity.csv': CONTINUITY_CSV,
} as const

export type CsvFileName = keyof typeof CSV_FILES
export const CSV_FILE_NAMES = Object.keys(CSV_FILES) as CsvFileName[]

/** A row of the file of that name. */
export type CsvRowOf<N extends CsvFileName> = CsvRow<(typeof CSV_FILES)[N]>

/** The file that goes by a name, whatever its case. */
export function csvFileNamed(name: string): CsvFileName | undefined {
  const wanted = name.trim().toLowerCase()
  return CSV_FILE_NAMES.find((known) => known === wanted)
}
