import { parse } from 'csv-parse/sync'
import { generateFleet } from '../../seed/scenario/fleet.js'

export type Row = Record<string, string>

const fleets = new Map<string, Map<string, string>>()

/** The files of a day, generated once for all tests of a run. */
export function fleetOn(today: string): Map<string, string> {
  const known = fleets.get(today) ?? generateFleet(today)
  fleets.set(today, known)
  return known
}

export function rowsOn(today: string, file: string): Row[] {
  return parse(fleetOn(today).get(file)!, { columns: true })
}

export function netMass(gross: string | undefined, anode: Row): number {
  return Number(gross) - Number(anode.core_mass_g)
}

export function byAnode(rows: readonly Row[]): Map<string, Row[]> {
  return grouped(rows, (row) => `${row.boat}|${row.anode}`)
}

export function grouped(rows: readonly Row[], keyOf: (row: Row) => string): Map<string, Row[]> {
  const groups = new Map<string, Row[]>()
  for (const row of rows) {
    const key = keyOf(row)
    groups.set(key, [...(groups.get(key) ?? []), row])
  }
  return groups
}
