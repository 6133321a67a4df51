import type { ObservedAnode } from '../rates/mass-states.js'
import type { ObservedBoat } from '../rates/rate-intervals.js'
import { normalQuantile } from '../statistics/distributions/normal.js'
import { normalPlusLognormalCdf } from '../statistics/distributions/normal-plus-lognormal.js'
import type { KeptOutlook } from './fleet-forecast.js'

/** How past forecasts of the mass did when the anodes were weighed. */
export interface Calibration {
  readonly scored: number
  readonly coverage: readonly { readonly level: number; readonly share: number | null }[]
  /** Mean normal score: 0 without bias, above 0 where more was lost than forecast. */
  readonly meanScore: number | null
}

/** The intervals that forecasts report: from p10 to p90, from p05 to p95. */
const LEVELS = [0.8, 0.9]
/** A probability that rounds to 0 or 1 is this far out at most. */
const LARGEST_SCORE = 8

/**
 * Probability, under a forecast issued earlier, of a loss no larger than a later weighing found: uniform on (0, 1) for
 * forecasts that are honest (probability integral transform; Dawid, J. R. Stat. Soc. A 147 (1984) 278–292).
 *
 * @param on day of the weighing, one of the anode's states after the outlook's last one
 * @returns `null` where that day has no state of its own
 */
export function forecastTransform(
  outlook: KeptOutlook,
  boat: Pick<ObservedBoat, 'calendar'>,
  anode: ObservedAnode,
  on: number,
): number | null {
  const last = outlook.path.at(-1)
  const state = anode.states.find((each) => each.on === on)
  if (last === undefined || state === undefined || on <= last.on) return null
  return normalPlusLognormalCdf(
    {
      mean: last.consumption,
      sd: Math.sqrt(last.variance + state.variance),
      logMean: outlook.logRate.mean,
      logSd: Math.sqrt(outlook.logRate.variance),
      factor: boat.calendar.between(last.on, on).days,
    },
    state.consumption,
  )
}

/** Coverage and bias from the transforms of past forecasts. */
export function calibrationOf(transforms: readonly number[]): Calibration {
  const scored = transforms.length
  const inside = (level: number) => transforms.filter((p) => Math.abs(p - 0.5) <= level / 2).length
  const scores = transforms.map((p) => {
    if (p <= 0) return -LARGEST_SCORE
    return p >= 1 ? LARGEST_SCORE : normalQuantile(p)
  })
  return {
    scored,
    coverage: LEVELS.map((level) => ({ level, share: scored === 0 ? null : inside(level) / scored })),
    meanScore: scored === 0 ? null : scores.reduce((sum, score) => sum + score, 0) / scored,
  }
}
