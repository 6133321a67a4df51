import { anodesInPlace } from '../forecast/anode-outlook.js'
import type { PresentRates } from '../forecast/present-rate.js'
import type { ObservedAnode } from '../rates/mass-states.js'
import { predictLogRate, type RateModel } from '../rates/rate-model.js'
import type { Prediction } from '../statistics/mixed-model/types.js'
import type { Anomaly } from './anomaly.js'
import { RowPredictor } from './detection/predict-rows.js'
import type { Diagnosis } from './diagnosis.js'

/** A fault whose last interval shows less than this share of it is over. Convention. */
const STILL_SHOWS = 0.5

/**
 * How much faster the anodes of fast anomalies go at present than the fit expects: what the anomaly adds to the rate predicted without
 * it, less the part t of it that the fit has taken into its effects already; what is left of it may be noise, by its precision:
 *
 *     x = log ratio − t,  δ = x·(1 − s²/x²) for x > s, else 0;  variance s²·(1 − s²/x²)
 *
 * Only what began on some day is added: what was so all along is in the effects, whole. Mass that broke off at once says nothing of the
 * rate that goes on. An anode that was fitted since, and has not been weighed, goes as the one before it at its position. Where the newest
 * interval is ordinary again, nothing is added.
 *
 * @param diagnoses of this model, the strongest first: an anode follows the first that it is in
 * @returns by key of the anode in place [log g/d]
 * @see Efron and Morris, J. Am. Stat. Assoc. 68 (1973) 117–130, for the shrinkage
 */
export function presentRates(
  model: RateModel,
  diagnoses: readonly Pick<Diagnosis, 'anomaly' | 'causes'>[],
): PresentRates {
  const goingOn = diagnoses.filter(({ causes }) => causes[0]?.cause !== 'mechanical-loss').map(({ anomaly }) => anomaly)
  const fast = goingOn.filter(({ direction, onset, logRatio }) => direction === 'fast' && onset && logRatio)
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
  const since = anomaly.onset!.p50
  const own = anomaly.anodes.flatMap((key) => rows.get(key) ?? []).filter((row) => model.intervals[row]!.to.on > since)
  const without = predictor.predict(own)
  if (without === null) return null
  const size = anomaly.logRatio!
  const taken = own.map((row, i) => fittedAt(model, row) - without.logRates[i]!)
  const left = size.mean - Math.max(0, taken.reduce((sum, each) => sum + each, 0) / own.length)
  if (!(left > size.sd)) return null
  const kept = 1 - (size.sd / left) ** 2
  const stillIn = anomaly.anodes.filter((key) => {
    const last = rows.get(key)?.at(-1)
    const i = last === undefined ? -1 : own.indexOf(last)
    if (i < 0) return false
    // In the interval in which it began it shows diluted.
    const began = model.intervals[last!]!.from.on < anomaly.onset!.p90
    return began || model.logRates[last!]! - without.logRates[i]! > STILL_SHOWS * size.mean
  })
  return { rate: { mean: kept * left, variance: kept * size.sd ** 2 }, stillIn: new Set(stillIn) }
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
