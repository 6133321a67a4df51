import type { Db } from '../../db/client.js'
import { type JudgedForecast, judgedForecasts, observationsOfFits } from '../../db/repositories/forecast-ledger.js'
import type { FleetHistory } from '../../engine/rates/fleet-history.js'
import type { ObservedAnode } from '../../engine/rates/mass-states.js'
import type { ObservationModel } from '../../engine/rates/observation-model.js'
import { type ObservedBoat, observeFleet } from '../../engine/rates/rate-intervals.js'
import { type Calibration, calibrationOf, type JudgedScore } from '../../engine/scoring/calibration.js'
import { scoreForecast } from '../../engine/scoring/score-forecast.js'
import { dayNumber } from '../dates/day-numbers.js'
import { forEachRow } from '../imports/pauses.js'

/** Past forecasts with the weighings that judge them. */
export interface Ledger {
  readonly judged: readonly JudgedForecast[]
  readonly observations: ReadonlyMap<string, ObservationModel>
}

export async function readLedger(tx: Db, organisationId: string): Promise<Ledger> {
  const judged = await judgedForecasts(tx, organisationId)
  const fits = [...new Set(judged.map(({ fitId }) => fitId))]
  return { judged, observations: await observationsOfFits(tx, organisationId, fits) }
}

/**
 * How past forecasts did, each judged by masses read the way its own fit read them. Requests get their turn in between.
 *
 * @param asOf day number up to which the history goes
 */
export async function judgeLedger(
  history: FleetHistory,
  asOf: number,
  { judged, observations }: Ledger,
): Promise<Calibration> {
  const waters = new Map(history.berths.map(({ berth, water }) => [berth, water]))
  const findAnode = anodeFinder(history, asOf, observations)
  const scores: JudgedScore[] = []
  // Forecasts come fit by fit, so that a boat is read once for each fit.
  await forEachRow(judged, (forecast) => {
    const found = findAnode(forecast)
    if (found === undefined) return
    const issuedOn = dayNumber(forecast.asOf)
    const weighedOn = dayNumber(forecast.weighedOn)
    const score = scoreForecast(forecast.outlook, found.boat, found.anode, weighedOn)
    if (score === null) return
    const { calendar } = found.boat
    const berth = calendar.berthOn(issuedOn) ?? calendar.berthOn(weighedOn - 1)
    scores.push({
      ...score,
      weighing: forecast.weighingId,
      horizonDays: weighedOn - issuedOn,
      water: (berth === null ? null : waters.get(berth)) ?? null,
      alloy: found.anode.history.alloy,
      hindsight: forecast.hindsight,
    })
  })
  return calibrationOf(scores)
}

interface Found {
  readonly boat: ObservedBoat
  readonly anode: ObservedAnode
}

/** Finds the anode of a forecast as the forecast's fit read it. Boats of one fit are kept until the next fit is asked for. */
function anodeFinder(history: FleetHistory, asOf: number, observations: ReadonlyMap<string, ObservationModel>) {
  const boatOf = new Map(history.boats.flatMap((boat) => boat.anodes.map(({ key }) => [key, boat] as const)))
  let fit = ''
  let read = new Map<string, ObservedBoat>()
  return ({ anodeId, fitId }: JudgedForecast): Found | undefined => {
    const boat = boatOf.get(anodeId)
    const observation = observations.get(fitId)
    if (boat === undefined || observation === undefined) return undefined
    if (fitId !== fit) read = new Map()
    fit = fitId
    const observed = read.get(boat.boat) ?? observeFleet({ ...history, boats: [boat] }, asOf, observation)[0]
    if (observed === undefined) return undefined
    read.set(boat.boat, observed)
    const anode = observed.anodes.find(({ history: { key } }) => key === anodeId)
    return anode && { boat: observed, anode }
  }
}
