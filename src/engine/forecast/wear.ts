import { dueConsumption, type ObservedAnode } from '../rates/mass-states.js'
import { normalLifeRangeDays } from '../rates/normal-life.js'
import type { RateModel } from '../rates/rate-model.js'
import { normalQuantile } from '../statistics/distributions/normal.js'
import { normalPlusLognormalCdf } from '../statistics/distributions/normal-plus-lognormal.js'

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
/** A score as far out as this says no more than "impossible under the prediction". */
const LARGEST_SURPRISE = 8
/** Due within two thirds of the shortest common life: about the five or six months at which practice speaks of a fault. */
const SPENT_SOON_SHARE = 2 / 3

/**
 * Judges the last interval of an anode: the probability of a loss that small under the prediction made without the interval,
 * as a normal score. An anode that its like predicted to go fast may still be abnormal: against common practice, where at
 * the rate seen it is due in well under the shortest common life.
 *
 * @param noiseVariance of one interval's log rate
 * @returns `null` for an anode without an interval
 */
export function wearOf(model: RateModel, anode: ObservedAnode, noiseVariance: number): Wear | null {
  const row = model.intervals.findLastIndex(({ context }) => context.anode.history.key === anode.history.key)
  const interval = model.intervals[row]
  if (interval === undefined || model.fit === null) return null
  const target = model.design.target(interval.context)
  const without = model.fit.predict(target, [row])
  const probability = normalPlusLognormalCdf(
    {
      mean: 0,
      sd: Math.sqrt(interval.from.variance + interval.to.variance),
      logMean: without.mean,
      logSd: Math.sqrt(without.variance + noiseVariance),
      factor: interval.context.exposure.days,
    },
    interval.consumption,
  )
  const surprise = scoreOf(probability)
  if (surprise > SURPRISE_LIMIT) return { surprise, judgement: 'fast', against: 'prediction' }
  if (surprise < -SURPRISE_LIMIT) return { surprise, judgement: 'slow', against: 'prediction' }
  if (spentSoon(anode)) return { surprise, judgement: 'fast', against: 'common-practice' }
  return { surprise, judgement: 'normal', against: 'prediction' }
}

function scoreOf(probability: number): number {
  if (probability <= 0) return -LARGEST_SURPRISE
  if (probability >= 1) return LARGEST_SURPRISE
  return Math.max(-LARGEST_SURPRISE, Math.min(LARGEST_SURPRISE, normalQuantile(probability)))
}

/** Whether the anode, at its mean rate since it was fitted, is due far sooner than common practice has it. */
function spentSoon(anode: ObservedAnode): boolean {
  const last = anode.states.at(-1)!
  const surelyLost = last.consumption - 2 * Math.sqrt(last.variance)
  if (!(surelyLost > 0 && last.exposureDays > 0)) return false
  const [shortest] = normalLifeRangeDays()
  return (dueConsumption(anode) / surelyLost) * last.exposureDays < SPENT_SOON_SHARE * shortest
}
