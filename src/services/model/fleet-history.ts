import type { FleetRecords } from '../../db/repositories/fleet-records.js'
import type { MassJudgement } from '../../engine/depletion/mass-observation.js'
import { fittingUseOf, protectionDemand } from '../../engine/electrochemistry/protection-demand.js'
import type { AnodeHistory, BoatHistory, DatedJudgement, FleetHistory } from '../../engine/rates/fleet-history.js'
import { GALVANIC_METALS, type GalvanicMetal } from '../../engine/reference/galvanic-series.js'
import { DEFAULT_WASTING_THRESHOLD } from '../../engine/reference/replacement-and-inspection.js'
import { dayNumber } from '../dates/day-numbers.js'

type RowOf<Table extends 'berths' | 'boats' | 'fittings' | 'stays' | 'haulOuts' | 'weighings'> =
  FleetRecords[Table][number]
type AnodeRow = FleetRecords['anodes'][number]

type WeighingRecord = Pick<
  RowOf<'weighings'>,
  | 'anodeId'
  | 'weighedOn'
  | 'method'
  | 'massG'
  | 'resolutionG'
  | 'cleaned'
  | 'wastedPercent'
  | 'lengthMm'
  | 'widthMm'
  | 'heightMm'
>

interface AnodeRecord {
  readonly anode: Pick<
    AnodeRow['anode'],
    | 'id'
    | 'boatId'
    | 'name'
    | 'alloy'
    | 'shape'
    | 'fittedOn'
    | 'removedOn'
    | 'grossMassG'
    | 'coreMassG'
    | 'lengthMm'
    | 'widthMm'
    | 'heightMm'
  >
  readonly position: Pick<AnodeRow['position'], 'kind' | 'wastingThreshold'>
}

/** What of a fleet's rows its history is made from: the tables have it, and so have the CSV files. */
export interface RecordedFleet {
  readonly wastingThreshold: number | null | undefined
  readonly berths: readonly Pick<RowOf<'berths'>, 'id' | 'name' | 'water' | 'latitude'>[]
  readonly boats: readonly Pick<RowOf<'boats'>, 'id' | 'name' | 'wastingThreshold'>[]
  readonly fittings: readonly FittingRecord[]
  readonly stays: readonly Pick<RowOf<'stays'>, 'boatId' | 'berthId' | 'fromOn' | 'toOn'>[]
  readonly haulOuts: readonly Pick<RowOf<'haulOuts'>, 'boatId' | 'hauledOn' | 'relaunchedOn' | 'planned'>[]
  readonly anodes: readonly AnodeRecord[]
  readonly weighings: readonly WeighingRecord[]
}

type FittingRecord = Pick<RowOf<'fittings'>, 'boatId' | 'name' | 'metal' | 'areaCm2' | 'coated' | 'bonded'>

/** A fleet's rows as the engine's plain values: dates as day numbers, berths by name, anodes by id. */
export function fleetHistoryOf(records: RecordedFleet): FleetHistory {
  const berthNames = new Map(records.berths.map(({ id, name }) => [id, name]))
  const byBoat = {
    stays: groupBy(records.stays, (stay) => stay.boatId),
    haulOuts: groupBy(records.haulOuts, (lift) => lift.boatId),
    anodes: groupBy(records.anodes, ({ anode }) => anode.boatId),
    fittings: groupBy(records.fittings, (fitting) => fitting.boatId),
  }
  const weighings = groupBy(records.weighings, (weighing) => weighing.anodeId)
  return {
    berths: records.berths.map(({ name, water, latitude }) => ({ berth: name, water, latitude })),
    boats: records.boats.map((boat): BoatHistory => {
      const threshold = boat.wastingThreshold ?? records.wastingThreshold ?? DEFAULT_WASTING_THRESHOLD
      return {
        boat: boat.name,
        stays: (byBoat.stays.get(boat.id) ?? []).map((stay) => ({
          from: dayNumber(stay.fromOn),
          to: numberOrNull(stay.toOn),
          berth: stay.berthId === null ? null : (berthNames.get(stay.berthId) ?? null),
        })),
        haulOuts: (byBoat.haulOuts.get(boat.id) ?? []).map((lift) => ({
          on: dayNumber(lift.hauledOn),
          relaunchedOn: numberOrNull(lift.relaunchedOn),
          planned: lift.planned === true,
        })),
        anodes: (byBoat.anodes.get(boat.id) ?? []).map((row) =>
          anodeHistoryOf(row, weighings.get(row.anode.id) ?? [], threshold),
        ),
        demandCurrentA: demandOf(byBoat.fittings.get(boat.id) ?? []),
      }
    }),
  }
}

export function anodeHistoryOf(
  { anode, position }: AnodeRecord,
  weighings: readonly WeighingRecord[],
  threshold: number,
): AnodeHistory {
  return {
    key: anode.id,
    anode: anode.name,
    position: position.kind,
    alloy: anode.alloy,
    shape: anode.shape,
    fittedOn: numberOrNull(anode.fittedOn),
    removedOn: numberOrNull(anode.removedOn),
    fittedGrossMassG: anode.grossMassG,
    coreMassG: anode.coreMassG,
    dimensions: { lengthMm: anode.lengthMm, widthMm: anode.widthMm, heightMm: anode.heightMm },
    threshold: position.wastingThreshold ?? threshold,
    weighings: weighings.flatMap((weighing): DatedJudgement[] => {
      const judgement = judgementOf(weighing)
      return judgement === null ? [] : [{ on: dayNumber(weighing.weighedOn), judgement }]
    }),
  }
}

/** What a weighing's row says of the mass; the database holds that each method has its figure. */
export function judgementOf(weighing: WeighingRecord): MassJudgement | null {
  const { lengthMm, widthMm, heightMm, massG, wastedPercent, resolutionG, cleaned } = weighing
  switch (weighing.method) {
    case 'scale':
      return massG === null ? null : { method: 'scale', grossMassG: massG, resolutionG, cleaned }
    case 'visual':
      return wastedPercent === null ? null : { method: 'visual', consumedFraction: wastedPercent / 100 }
    case 'dimensions':
      return { method: 'dimensions', dimensions: { lengthMm, widthMm, heightMm } }
  }
}

function demandOf(fittings: readonly FittingRecord[]): number | null {
  const demand = protectionDemand(
    fittings.map(({ name, metal, areaCm2, coated, bonded }) => ({
      fitting: name,
      metal: isGalvanicMetal(metal) ? metal : null,
      areaCm2: areaCm2 !== null && areaCm2 > 0 ? areaCm2 : null,
      coated,
      bonded,
      use: fittingUseOf(name),
    })),
  )
  return demand.kind === 'estimated' ? demand.currentA : null
}

function isGalvanicMetal(metal: string | null): metal is GalvanicMetal {
  return metal !== null && (GALVANIC_METALS as readonly string[]).includes(metal)
}

export function numberOrNull(day: string | null): number | null {
  return day === null ? null : dayNumber(day)
}

export function groupBy<T>(rows: readonly T[], keyOf: (row: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>()
  for (const row of rows) {
    const group = groups.get(keyOf(row))
    if (group === undefined) groups.set(keyOf(row), [row])
    else group.push(row)
  }
  return groups
}
