import type { CsvFileName } from '../../../contract/csv/index.js'
import type { Hull, Water, YesNoUnknown } from '../../../contract/vocabulary.js'
import { writeSheet } from './csv-sheet.js'

/** Files by their names, as an import takes them. */
export type Files = Readonly<Partial<Record<CsvFileName, string>>>

export interface BerthsEntry {
  readonly names: readonly string[]
  readonly pontoon: string
  readonly water: Water | ''
  readonly salinityPsu: string
  readonly shorePower: 'yes' | 'no' | ''
}

/** What a form about berths asks to be loaded: the forms go the same way as files, so that all of it is added or nothing. */
export function berthFiles({ names, pontoon, water, salinityPsu, shorePower }: BerthsEntry): Files {
  const rows = names.map((name) => [name, pontoon, water, salinityPsu, shorePower])
  return { 'berths.csv': csv(['berth', 'pontoon', 'water', 'salinity_psu', 'shore_power'], rows) }
}

export interface BoatEntry {
  readonly name: string
  readonly ownerName: string
  readonly ownerEmail: string
  readonly hull: Hull | ''
  readonly galvanicIsolator: YesNoUnknown | ''
  /** Where she lies, and since when; '' for nowhere known. */
  readonly berth: string
  readonly since: string
}

export function boatFiles({ name, ownerName, ownerEmail, hull, galvanicIsolator, berth, since }: BoatEntry): Files {
  const boats = csv(
    ['boat', 'owner_name', 'owner_email', 'hull', 'galvanic_isolator'],
    [[name, ownerName, ownerEmail, hull, galvanicIsolator]],
  )
  if (berth === '') return { 'boats.csv': boats }
  return { 'boats.csv': boats, 'stays.csv': csv(['boat', 'from', 'berth'], [[name, since, berth]]) }
}

function csv(header: readonly string[], rows: readonly (readonly string[])[]): string {
  return writeSheet({ header, rows: rows.map((cells, index) => ({ line: index + 2, cells })) })
}
