import { anodesInPlace } from '../forecast/anode-outlook.js'
import type { PresentRates } from '../forecast/present-rate.js'
import type { ObservedAnode } from '../rates/mass-states.js'
import { predictLogRate, type RateModel } from '../rates/rate-model.js'
import type { Prediction } from '../statistics/mixed-model/types.js'
import type { Anomaly } from './anomaly.js'
import { RowPredictor } from './detection/predict-rows.js'

/** A fault whose last interval shows less than this share of it is over. Convention. */
const STILL_SHOWS = 0.5

/**
 * How much faster the anodes of fast anomalies go at present than the fit expects: what the anomaly adds to the rate predicted without
 * it, less the part of it that the fit has taken into its effects already. An anode that was fitted since, and has not been weighed,
 * goes as the one before it at its position. Where the newest interval is ordinary again, nothing is added.
 *
 * @param anomalies of this model, the strongest first: an anode follows the first that it is in
 * @returns by key of the anode in place [log g/d]
 */
export function presentRates(model: RateModel, anomalies: readonly Anomaly[]): PresentRates {
  const fast = anomalies.filter(({ direction, logRatio }) => direction === 'fast' && logRatio !== null)
  if (fast.length === 0 || model.fit === null) return new Map()
  const rows = rowsByAnode(model)
  const predictor = new RowPredictor(model)
  const present = new Map<string, Prediction>()
  const inPlace = anodesInPlace(model)
  for (const anomaly of fast) {
    const excess = excessBeyondFit(model, predictor, anomaly, rows)
    if (excess === null) continue
    for (const { boat, anode } of inPlace) {
      const { key } = anode.history
      if (!present.has(key) && excess.stillIn.has(predecessorOrSelf(anode, boat.anodes, anomaly))) {
        present.set(key, excess.rate)
      }
    }
  }
  return present
}

type RowsByAnode = ReadonlyMap<string, readonly number[]>

function rowsByAnode(model: RateModel): RowsByAnode {
  const rows = new Map<string, number[]>()
  model.intervals.forEach(({ context }, row) => {
    const { key } = context.anode.history
    rows.set(key, [...(rows.get(key) ?? []), row])
  })
  return rows
}

interface Excess {
  readonly rate: Prediction
  /** Keys of the anodes whose newest interval shows it. */
  readonly stillIn: ReadonlySet<string>
}

function excessBeyondFit(
  model: RateModel,
  predictor: RowPredictor,
  anomaly: Anomaly,
  rows: RowsByAnode,
): Excess | null {
  const since = anomaly.onset?.p50 ?? -Infinity
  const own = anomaly.anodes.flatMap((key) => rows.get(key) ?? []).filter((row) => model.intervals[row]!.to.on > since)
  const without = predictor.predict(own)
  if (without === null) return null
  const size = anomaly.logRatio!
  const taken = own.map((row, i) => fittedAt(model, row) - without.logRates[i]!)
  const mean = Math.max(0, size.mean - taken.reduce((sum, each) => sum + each, 0) / own.length)
  const stillIn = anomaly.anodes.filter((key) => {
    const last = rows.get(key)?.at(-1)
    const i = last === undefined ? -1 : own.indexOf(last)
    if (i < 0) return false
    // In the interval in which it began it shows diluted.
    const began = model.intervals[last!]!.from.on < (anomaly.onset?.p90 ?? -Infinity)
    return began || model.logRates[last!]! - without.logRates[i]! > STILL_SHOWS * size.mean
  })
  return { rate: { mean, variance: size.sd ** 2 }, stillIn: new Set(stillIn) }
}

function fittedAt(model: RateModel, row: number): number {
  return predictLogRate(model, model.design.target(model.intervals[row]!.context)).mean
}

/** The anode's own key, or where it has not been weighed yet that of the anode of the anomaly that it took the place of. */
function predecessorOrSelf(anode: ObservedAnode, others: readonly ObservedAnode[], { anodes }: Anomaly): string {
  const { key, position, fittedOn } = anode.history
  if (anode.states.length > 1 || anodes.includes(key)) return key
  const before = others.find(
    ({ history }) =>
      history.position === position &&
      history.removedOn !== null &&
      history.removedOn === fittedOn &&
      history.key !== key,
  )
  return before?.history.key ?? key
}
