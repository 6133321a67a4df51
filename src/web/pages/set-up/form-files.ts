import type { CsvFileName } from '../../../contract/csv/index.js'
import { gramsOf } from '../../../contract/grams.js'
import type { Alloy, Hull, MassUnit, PositionKind, Water, YesNoUnknown } from '../../../contract/vocabulary.js'
import { parseNumber } from '../../wording/typed-number.js'
import { placeLabel } from './anode-place.js'
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

export interface AnodeEntry {
  readonly boat: string
  readonly name: string
  readonly kind: PositionKind | ''
  /** Where on that part, in the yard's own words. */
  readonly where: string
  readonly alloy: Alloy | ''
  readonly shape: string
  readonly fittedOn: string
  /** As typed: masses in the unit of whoever types, lengths in millimetres. */
  readonly grossMass: string
  readonly coreMass: string
  readonly lengthMm: string
  readonly widthMm: string
  readonly heightMm: string
}

/** @param unit what the masses were typed in */
export function anodeFiles(entry: AnodeEntry, unit: MassUnit): Files {
  const cells = {
    boat: entry.boat,
    anode: entry.name,
    position: placeLabel(entry.kind, entry.where),
    alloy: entry.alloy,
    shape: entry.shape,
    fitted_on: entry.fittedOn,
    gross_mass_g: numberCell(entry.grossMass, (mass) => gramsOf(mass, unit)),
    core_mass_g: numberCell(entry.coreMass, (mass) => gramsOf(mass, unit)),
    length_mm: numberCell(entry.lengthMm),
    width_mm: numberCell(entry.widthMm),
    height_mm: numberCell(entry.heightMm),
  }
  return { 'anodes.csv': csv(Object.keys(cells), [Object.values(cells)]) }
}

/** What is no number goes as it was typed: the service says what is wrong with it, at its field. */
function numberCell(typed: string, convert = (value: number) => value): string {
  const value = parseNumber(typed)
  if (value === null) return ''
  return Number.isNaN(value) ? typed : String(convert(value))
}

function csv(header: readonly string[], rows: readonly (readonly string[])[]): string {
  return writeSheet({ header, rows: rows.map((cells, index) => ({ line: index + 2, cells })) })
}
