import { OutOfRange } from '../../errors.js'

/** Lanczos approximation with g = 7 and nine terms: some fifteen digits. From memory; held by tests of the distributions on it. */
const LANCZOS_G = 7
const LANCZOS = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
] as const

const MOST_TERMS = 10_000
const TINY = 1e-300
const SETTLED = 1e-16
const MOST_HALVINGS = 2000

/**
 * log Γ(x) for x > 0.
 *
 * @throws OutOfRange for other x
 *
 * Source: Lanczos, SIAM J. Numer. Anal. B 1 (1964) 86–96.
 */
export function logGamma(x: number): number {
  if (!(x > 0 && x < Infinity)) throw new OutOfRange('argument of the gamma function', x, 'above 0 and finite')
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x)
  const shifted = x - 1
  const t = shifted + LANCZOS_G + 0.5
  const sum = LANCZOS.reduce<number>((total, term, i) => total + (i === 0 ? term : term / (shifted + i)), 0)
  return 0.5 * Math.log(2 * Math.PI) + (shifted + 0.5) * Math.log(t) - t + Math.log(sum)
}

/**
 * Distribution function of the beta distribution, the regularised incomplete beta function Iₓ(a, b), by its continued fraction.
 *
 * @param x 0 ≤ x ≤ 1
 * @param a above 0
 * @param b above 0
 * @throws OutOfRange outside those ranges
 *
 * Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.5.8; Lentz's evaluation.
 *
 * @example betaCdf(0.5, 2, 2) // 0.5
 */
export function betaCdf(x: number, a: number, b: number): number {
  if (!(x >= 0 && x <= 1)) throw new OutOfRange('share', x, '0 to 1')
  if (!(a > 0 && b > 0)) throw new OutOfRange('shape of the beta distribution', Math.min(a, b), 'above 0')
  if (x === 0 || x === 1) return x
  // The fraction settles fast below the mean; above it, the other tail is asked for.
  if (x > (a + 1) / (a + b + 2)) return 1 - lowerTail(1 - x, b, a)
  return lowerTail(x, a, b)
}

function lowerTail(x: number, a: number, b: number): number {
  const logFront = a * Math.log(x) + b * Math.log1p(-x) + logGamma(a + b) - logGamma(a) - logGamma(b)
  return (Math.exp(logFront) / a) * continuedFraction(x, a, b)
}

function continuedFraction(x: number, a: number, b: number): number {
  const term = (step: number) => {
    const m = Math.floor(step / 2)
    if (step % 2 === 0) return (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
    return (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1))
  }
  const away = (value: number) => (Math.abs(value) < TINY ? TINY : value)
  let c = 1
  let d = 1 / away(1 + term(1))
  let fraction = d
  for (let step = 2; step <= MOST_TERMS; step++) {
    d = 1 / away(1 + term(step) * d)
    c = away(1 + term(step) / c)
    fraction *= d * c
    if (Math.abs(d * c - 1) < SETTLED) break
  }
  return fraction
}

/**
 * Quantile of the beta distribution, by halving: slow, and right to the last digits.
 *
 * @param probability 0 < p < 1
 * @throws OutOfRange outside the ranges of `betaCdf`
 * @example betaQuantile(0.5, 2, 2) // 0.5
 */
export function betaQuantile(probability: number, a: number, b: number): number {
  if (!(probability > 0 && probability < 1)) throw new OutOfRange('probability', probability, 'between 0 and 1')
  let low = 0
  let high = 1
  for (let halving = 0; halving < MOST_HALVINGS; halving++) {
    const middle = (low + high) / 2
    if (middle === low || middle === high) break
    if (betaCdf(middle, a, b) < probability) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/**
 * Upper tail of Fisher's F distribution, P(F > f): the p value of a test that compares two variances.
 *
 * @param f not negative
 * @throws OutOfRange for another f, or degrees of freedom not above 0
 * @example fisherUpperTail(1, 5, 5) // 0.5
 */
export function fisherUpperTail(f: number, numeratorFreedom: number, denominatorFreedom: number): number {
  if (!(f >= 0)) throw new OutOfRange('F', f, 'not negative')
  if (f === Infinity) return 0
  const share = denominatorFreedom / (denominatorFreedom + numeratorFreedom * f)
  return betaCdf(share, denominatorFreedom / 2, numeratorFreedom / 2)
}
