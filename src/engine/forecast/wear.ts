import { lossScore } from '../diagnosis/detection/loss-score.js'
import { judgeByPractice } from '../diagnosis/detection/practice.js'
import type { ObservedAnode } from '../rates/mass-states.js'
import { noiseScale } from '../rates/noise-memory.js'
import type { RateModel } from '../rates/rate-model.js'
import { rowsOfAnode } from '../rates/rows-of-anode.js'
import { normalQuantile } from '../statistics/distributions/normal.js'
import { RESIDUAL } from '../statistics/mixed-model/types.js'

/** How the last interval of an anode compares with what would have been predicted without it. */
export interface Wear {
  /** Standard normal score of the loss under its prediction: above 0 is faster. */
  readonly surprise: number
  readonly judgement: 'normal' | 'fast' | 'slow'
  /** What it was judged against: the anode's boat, berth and kind, or common practice. */
  readonly against: 'prediction' | 'common-practice'
}

/** Two-sided one in a hundred under the prediction. Convention. */
const SURPRISE_LIMIT = normalQuantile(0.995)
/**
 * Judges the last interval of an anode: the probability of a loss that small under the prediction made without the interval,
 * as a normal score. An anode that its like predicted to go fast may still be abnormal: against common practice.
 *
 * @returns `null` for an anode without an interval
 */
export function wearOf(model: RateModel, anode: ObservedAnode): Wear | null {
  const row = rowsOfAnode(model.intervals, anode.history.key).at(-1)
  if (row === undefined || model.fit === null) return null
  const { context, from, to, consumption } = model.intervals[row]!
  const { days } = context.exposure
  const without = model.fit.predict(model.design.target(context), [row])
  const surprise = lossScore(
    {
      logMean: without.mean,
      logVariance: without.variance,
      noiseVariance: model.variances[RESIDUAL]! * noiseScale(days),
      errorVariance: from.variance + to.variance,
      exposureDays: days,
    },
    consumption,
  )
  if (surprise > SURPRISE_LIMIT) return { surprise, judgement: 'fast', against: 'prediction' }
  if (surprise < -SURPRISE_LIMIT) return { surprise, judgement: 'slow', against: 'prediction' }
  const practice = judgeByPractice(anode)
  if (practice !== null) return { surprise, judgement: practice.direction, against: 'common-practice' }
  return { surprise, judgement: 'normal', against: 'prediction' }
}
