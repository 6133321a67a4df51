import { OutOfRange } from '../errors.js'
import { normalQuantile } from './distributions/normal.js'

/** Ends of an interval for a share. */
export interface ShareInterval {
  readonly low: number
  readonly high: number
}

/**
 * Interval for the share behind a count, without correction for continuity: every share p with |x/n − p| ≤ z·√(p(1 − p)/n),
 *
 *     (x/n + z²/2n ± z·√(x(n − x)/n³ + z²/4n²)) / (1 + z²/n)
 *
 * Stays within 0 and 1, and is honest for few trials. The trials count as independent: where they are not, it is too narrow.
 *
 * @param successes x, 0 ≤ x ≤ n
 * @param trials n ≥ 1
 * @param level probability that the interval claims, in (0, 1)
 * @throws OutOfRange outside those ranges
 * @see Wilson, J. Am. Stat. Assoc. 22 (1927) 209–212
 * @example wilsonInterval(78, 100, 0.95) // { low: 0.689, high: 0.850 }
 */
export function wilsonInterval(successes: number, trials: number, level: number): ShareInterval {
  if (!(trials >= 1)) throw new OutOfRange('trials', trials, 'at least 1')
  if (!(successes >= 0 && successes <= trials)) throw new OutOfRange('successes', successes, `0 to ${trials}`)
  if (!(level > 0 && level < 1)) throw new OutOfRange('level', level, 'above 0 and below 1')
  const z = normalQuantile(0.5 + level / 2)
  const share = successes / trials
  const middle = share + z ** 2 / (2 * trials)
  const reach = z * Math.sqrt((share * (1 - share)) / trials + z ** 2 / (4 * trials ** 2))
  const scale = 1 + z ** 2 / trials
  return {
    low: successes === 0 ? 0 : (middle - reach) / scale,
    high: successes === trials ? 1 : (middle + reach) / scale,
  }
}
