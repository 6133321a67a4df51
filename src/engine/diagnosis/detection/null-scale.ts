import { normalQuantile } from '../../statistics/distributions/normal.js'

/** Scores that the scale of 1 is believed to be worth before any is seen. Convention. */
const PRIOR_SCORES = 20

/**
 * How much wider ordinary scores spread than the standard normal they should follow: from the half of them in the middle, which
 * faults do not reach. What the model does not know of ordinary wear so raises the bar for all. Never below 1.
 *
 * Source: Efron, J. Am. Stat. Assoc. 99 (2004) 96–104 (the empirical null); the quartiles instead of a fit to the middle, and the
 * prior, are this project's.
 */
export function nullScale(scores: readonly number[]): number {
  if (scores.length === 0) return 1
  const sizes = scores.map(Math.abs).sort((a, b) => a - b)
  const middle = sizes[Math.floor((sizes.length - 1) / 2)]!
  const scale = middle / normalQuantile(0.75)
  const variance = (sizes.length * scale ** 2 + PRIOR_SCORES) / (sizes.length + PRIOR_SCORES)
  return Math.max(1, Math.sqrt(variance))
}
