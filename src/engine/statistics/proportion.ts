import { OutOfRange } from '../errors.js'
import { betaQuantile, logGamma } from './distributions/beta.js'
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
  checkLevel(level)
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

/**
 * The exact interval: the shares under which a count as large, or as small, is no rarer than (1 − level)/2. Never too narrow,
 * so a little wide.
 *
 * @param successes x, 0 ≤ x ≤ n, whole
 * @param trials n ≥ 1, whole
 * @throws OutOfRange outside those ranges
 * @see Clopper and Pearson, Biometrika 26 (1934) 404–413
 */
export function exactInterval(successes: number, trials: number, level: number): ShareInterval {
  checkCount(successes, trials)
  checkLevel(level)
  const tail = (1 - level) / 2
  return {
    low: successes === 0 ? 0 : betaQuantile(tail, successes, trials - successes + 1),
    high: successes === trials ? 1 : betaQuantile(1 - tail, successes + 1, trials - successes),
  }
}

/**
 * Interval for the difference of two shares, x₁/n₁ − x₂/n₂, from the two score intervals.
 *
 * @throws OutOfRange outside the ranges of `wilsonInterval`
 * @see Newcombe, Stat. Med. 17 (1998) 873–890, method 10
 */
export function differenceInterval(one: Count, other: Count, level: number): ShareInterval {
  const [a, b] = [
    wilsonInterval(one.successes, one.trials, level),
    wilsonInterval(other.successes, other.trials, level),
  ]
  const [p, r] = [one.successes / one.trials, other.successes / other.trials]
  return {
    low: p - r - Math.hypot(p - a.low, b.high - r),
    high: p - r + Math.hypot(a.high - p, r - b.low),
  }
}

/** Tables whose probabilities differ by rounding alone are equally likely. As the reference program has it. */
const EQUALLY_LIKELY = 1 + 1e-7

/**
 * Fisher's exact test of two counts: the probability, where both have one share and the successes of both together are given,
 * of a table no likelier than the one found.
 *
 * @throws OutOfRange for counts that cannot be
 * @see Fisher, Statistical Methods for Research Workers (1934), section 21.02
 */
export function fisherExactTest(one: Count, other: Count): number {
  checkCount(one.successes, one.trials)
  checkCount(other.successes, other.trials)
  const total = one.successes + other.successes
  const [least, most] = [Math.max(0, total - other.trials), Math.min(total, one.trials)]
  const logProbability = (x: number) =>
    logChoose(one.trials, x) + logChoose(other.trials, total - x) - logChoose(one.trials + other.trials, total)
  const found = Math.exp(logProbability(one.successes)) * EQUALLY_LIKELY
  let sum = 0
  for (let x = least; x <= most; x++) {
    const probability = Math.exp(logProbability(x))
    if (probability <= found) sum += probability
  }
  return Math.min(1, sum)
}

/** Successes out of trials. */
export interface Count {
  readonly successes: number
  readonly trials: number
}

function logChoose(n: number, k: number): number {
  return logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1)
}

function checkCount(successes: number, trials: number): void {
  if (!(Number.isInteger(trials) && trials >= 1)) throw new OutOfRange('trials', trials, 'a whole number, at least 1')
  if (!(Number.isInteger(successes) && successes >= 0 && successes <= trials)) {
    throw new OutOfRange('successes', successes, `a whole number, 0 to ${trials}`)
  }
}

function checkLevel(level: number): void {
  if (!(level > 0 && level < 1)) throw new OutOfRange('level', level, 'above 0 and below 1')
}
