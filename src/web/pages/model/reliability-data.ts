import type { ModelView } from '../../../contract/model.js'
import { wilsonInterval } from '../../../engine/statistics/proportion.js'

/** A chance that forecasts gave a loss to stay below a value, and how often it did. */
export interface ReliabilityPoint {
  readonly promised: number
  readonly kept: number
  readonly low: number
  readonly high: number
}

/** Of the intervals drawn, as in the tables. */
const LEVEL = 0.9

/** The promises at each tenth against what came; none before the first judgement. */
export function reliabilityPoints(bins: ModelView['calibration']['reliability']): ReliabilityPoint[] {
  const total = bins.reduce((sum, { count }) => sum + count, 0)
  if (total === 0) return []
  let below = 0
  return bins.slice(0, -1).map(({ to, count }) => {
    below += count
    return { promised: to, kept: below / total, ...wilsonInterval(below, total, LEVEL) }
  })
}
