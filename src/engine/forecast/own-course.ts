import type { ObservedAnode } from '../rates/mass-states.js'
import { noiseScale } from '../rates/noise-memory.js'
import { predictLogRate, type RateModel } from '../rates/rate-model.js'
import { rowsOfAnode } from '../rates/rows-of-anode.js'
import { type LinearTarget, type Prediction, RESIDUAL } from '../statistics/mixed-model/types.js'
import { type FilteredMasses, type FilterStep, filterMasses } from './filtered-mass.js'

/** Under a fault an interval counts for nothing in the fit, and its rate for next to nothing here. */
const LEAST_WEIGHT = 1e-3

/**
 * An anode's weighings as filtered with its rate. What is believed of the rate without these weighings is the fit's prediction
 * with their rows left out, which is exact; each interval goes at the rate of its own berths and season, with the noise that
 * its tail weight leaves it.
 *
 * @param target of the rate since the last weighing
 * @param after the rate that the anode goes on with
 */
export function filteredCourse(
  model: RateModel,
  anode: ObservedAnode,
  target: LinearTarget,
  after: Prediction,
): FilteredMasses {
  const rows = rowsOfAnode(model.intervals, anode.history.key)
  const before = model.fit === null || rows.length === 0 ? after : model.fit.predict(target, rows)
  const fitted = predictLogRate(model, target).mean
  const steps = anode.states.map((state): FilterStep => {
    const row = rows.find((each) => model.intervals[each]!.to.on === state.on)
    if (row === undefined) return { state, shift: 0, noise: model.variances[RESIDUAL]! }
    const { context } = model.intervals[row]!
    return {
      state,
      shift: predictLogRate(model, model.design.target(context)).mean - fitted,
      noise:
        (model.variances[RESIDUAL]! * noiseScale(context.exposure.days)) / Math.max(LEAST_WEIGHT, model.weights[row]!),
    }
  })
  return filterMasses(steps, before, after)
}
