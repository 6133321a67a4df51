import type { PlannedBerth } from '../../api/pontoons.js'
import type { Effect } from './effect-scale.js'

/** Standard normal quantile of 0.9: the effects are shown with intervals that hold 8 of 10. */
const Q90 = 1.2815515594457

export function effectOf({ effect }: Pick<PlannedBerth, 'effect'>): Effect | null {
  if (effect === null) return null
  const { mean, se } = effect
  return { mean, low: mean - Q90 * se, high: mean + Q90 * se }
}
