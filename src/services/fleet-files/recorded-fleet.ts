import type { CsvFileName, CsvRowOf } from '../../contract/csv/index.js'
import { positionKindOf } from '../../contract/vocabulary.js'
import type { RecordedFacts } from '../model/fleet-facts.js'
import type { RecordedFleet } from '../model/fleet-history.js'

/** The rows of a fleet's files; a file that is not there has none. */
export type FleetFileRows = { readonly [N in CsvFileName]?: readonly CsvRowOf<N>[] }

/** The key that a history has for an anode of the files: names within the boat may repeat over the fleet. */
export function anodeKey(boat: string, anode: string): string {
  return JSON.stringify([boat, anode])
}

/** The same for a fitting. */
export function fittingKey(boat: string, fitting: string): string {
  return JSON.stringify([boat, fitting])
}

type RecordedFiles = RecordedFleet & RecordedFacts

/** A fleet's files as the rows that its history and its facts are made from: what the import would store, with names for ids. */
export function recordedFleetOf(files: FleetFileRows): RecordedFiles {
  return {
    wastingThreshold: null,
    pontoons: [...new Set((files['berths.csv'] ?? []).flatMap(({ pontoon }) => pontoon ?? []))].map((pontoon) => ({
      id: pontoon,
      name: pontoon,
    })),
    berths: (files['berths.csv'] ?? []).map(berthRecord),
    boats: (files['boats.csv'] ?? []).map(({ boat, hull, galvanic_isolator }) => ({
      id: boat,
      name: boat,
      wastingThreshold: null,
      hull,
      galvanicIsolator: galvanic_isolator,
    })),
    fittings: (files['fittings.csv'] ?? []).map(({ boat, fitting, metal, area_cm2, coated, bonded }) => ({
      id: fittingKey(boat, fitting),
      boatId: boat,
      name: fitting,
      metal,
      areaCm2: area_cm2,
      coated,
      bonded,
    })),
    stays: (files['stays.csv'] ?? []).map(({ boat, berth, from, to, shore_power_hours_per_day }) => ({
      boatId: boat,
      berthId: berth,
      fromOn: from,
      toOn: to,
      shorePowerHoursPerDay: shore_power_hours_per_day,
    })),
    haulOuts: (files['haul-outs.csv'] ?? []).map(({ boat, on, relaunched_on, planned }) => ({
      boatId: boat,
      hauledOn: on,
      relaunchedOn: relaunched_on,
      planned,
    })),
    potentials: (files['potentials.csv'] ?? []).map(potentialRecord),
    continuity: (files['continuity.csv'] ?? []).map(({ boat, measured_at, from, to, ohms }) => ({
      boatId: boat,
      measuredAt: measured_at,
      fromName: from,
      toName: to,
      ohms,
    })),
    anodes: (files['anodes.csv'] ?? []).map(anodeRecord),
    weighings: [...(files['weighings.csv'] ?? [])]
      .sort((a, b) => (a.weighed_on < b.weighed_on ? -1 : 1))
      .map(weighingRecord),
  }
}

function berthRecord(row: CsvRowOf<'berths.csv'>): RecordedFiles['berths'][number] {
  const { berth, pontoon, water, salinity_psu, latitude, shore_power } = row
  return {
    id: berth,
    name: berth,
    pontoonId: pontoon,
    water,
    salinityPsu: salinity_psu,
    latitude,
    shorePower: shore_power,
  }
}

function potentialRecord(row: CsvRowOf<'potentials.csv'>): RecordedFiles['potentials'][number] {
  const { boat, fitting, measured_at, reference, volts, shore_power, circuits } = row
  return {
    boatId: boat,
    fittingId: fitting === null ? null : fittingKey(boat, fitting),
    measuredAt: measured_at,
    reference,
    volts,
    shorePower: shore_power,
    circuits,
  }
}

function anodeRecord(row: CsvRowOf<'anodes.csv'>): RecordedFiles['anodes'][number] {
  return {
    anode: {
      id: anodeKey(row.boat, row.anode),
      boatId: row.boat,
      name: row.anode,
      alloy: row.alloy,
      shape: row.shape,
      fittedOn: row.fitted_on,
      removedOn: row.removed_on,
      grossMassG: row.gross_mass_g,
      coreMassG: row.core_mass_g,
      lengthMm: row.length_mm,
      widthMm: row.width_mm,
      heightMm: row.height_mm,
      bonded: row.bonded,
    },
    position: { kind: positionKindOf(row.position), wastingThreshold: null },
  }
}

function weighingRecord(row: CsvRowOf<'weighings.csv'>): RecordedFiles['weighings'][number] {
  return {
    anodeId: anodeKey(row.boat, row.anode),
    weighedOn: row.weighed_on,
    method: row.method,
    massG: row.mass_g,
    resolutionG: row.resolution_g,
    cleaned: row.cleaned,
    wastedPercent: row.wasted_percent,
    lengthMm: row.length_mm,
    widthMm: row.width_mm,
    heightMm: row.height_mm,
    submergedMassG: row.submerged_mass_g,
    submergedIn: row.submerged_in,
    conditions: row.condition,
  }
}
