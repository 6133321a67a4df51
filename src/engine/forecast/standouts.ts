import { predictLogRate, type RateModel } from '../rates/rate-model.js'
import { rowsOfAnode } from '../rates/rows-of-anode.js'

/** The weight that the fit gave to the loss up to one weighing. */
export interface IntervalWeight {
  /** Day number of the weighing. */
  readonly on: number
  /** 1 counts in full, near 0 hardly at all. */
  readonly weight: number
}

/** An interval that the fit counts for less than half: a fault, a slip of the pen, or something that nobody knows yet. */
export interface Standout extends IntervalWeight {
  readonly boat: string
  readonly anode: string
  /** Key of the anode. */
  readonly key: string
  /** Most likely log rate of the interval itself, and the one expected from all that the fit knows [log g/d]. */
  readonly logRate: number
  readonly expected: number
}

/** Below this weight an interval stands out: it counts for less than half. Convention. */
export const STANDS_OUT_BELOW = 0.5

/** The intervals that stand out, the least counted first. */
export function standoutsOf(model: RateModel): Standout[] {
  return model.intervals
    .flatMap(({ context, to }, row): Standout[] => {
      const weight = weightAt(model, row)
      if (weight >= STANDS_OUT_BELOW) return []
      const { key, anode } = context.anode.history
      const expected = predictLogRate(model, model.design.target(context)).mean
      return [{ boat: context.boat, anode, key, on: to.on, weight, logRate: model.logRates[row]!, expected }]
    })
    .sort((a, b) => a.weight - b.weight)
}

/** The weights of an anode's intervals, in order of time. */
export function weightsOfAnode(model: RateModel, key: string): IntervalWeight[] {
  return rowsOfAnode(model.intervals, key).map((row) => ({
    on: model.intervals[row]!.to.on,
    weight: weightAt(model, row),
  }))
}

/** A scale mixture gives an interval right in the middle a little more than 1: it counts in full. */
function weightAt(model: RateModel, row: number): number {
  return Math.min(1, model.weights[row]!)
}
