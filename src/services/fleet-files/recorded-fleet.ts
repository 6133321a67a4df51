import type { CsvFileName, CsvRowOf } from '../../contract/csv/index.js'
import { positionKindOf } from '../../contract/vocabulary.js'
import type { RecordedFleet } from '../model/fleet-history.js'

/** The rows of a fleet's files; a file that is not there has none. */
export type FleetFileRows = { readonly [N in CsvFileName]?: readonly CsvRowOf<N>[] }

/** The key that a history has for an anode of the files: names within the boat may repeat over the fleet. */
export function anodeKey(boat: string, anode: string): string {
  return JSON.stringify([boat, anode])
}

/** A fleet's files as the rows that its history is made from: what the import would store, with names for ids. */
export function recordedFleetOf(files: FleetFileRows): RecordedFleet {
  return {
    wastingThreshold: null,
    berths: (files['berths.csv'] ?? []).map(({ berth, water, latitude }) => ({
      id: berth,
      name: berth,
      water,
      latitude,
    })),
    boats: (files['boats.csv'] ?? []).map(({ boat }) => ({ id: boat, name: boat, wastingThreshold: null })),
    fittings: (files['fittings.csv'] ?? []).map(({ boat, fitting, metal, area_cm2, coated, bonded }) => ({
      boatId: boat,
      name: fitting,
      metal,
      areaCm2: area_cm2,
      coated,
      bonded,
    })),
    stays: (files['stays.csv'] ?? []).map(({ boat, berth, from, to }) => ({
      boatId: boat,
      berthId: berth,
      fromOn: from,
      toOn: to,
    })),
    haulOuts: (files['haul-outs.csv'] ?? []).map(({ boat, on, relaunched_on, planned }) => ({
      boatId: boat,
      hauledOn: on,
      relaunchedOn: relaunched_on,
      planned,
    })),
    anodes: (files['anodes.csv'] ?? []).map(anodeRecord),
    weighings: [...(files['weighings.csv'] ?? [])]
      .sort((a, b) => (a.weighed_on < b.weighed_on ? -1 : 1))
      .map(weighingRecord),
  }
}

function anodeRecord(row: CsvRowOf<'anodes.csv'>): RecordedFleet['anodes'][number] {
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
    },
    position: { kind: positionKindOf(row.position), wastingThreshold: null },
  }
}

function weighingRecord(row: CsvRowOf<'weighings.csv'>): RecordedFleet['weighings'][number] {
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
  }
}
