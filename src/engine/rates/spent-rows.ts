import { normalCdf, normalDensity } from '../statistics/distributions/normal.js'

/** What a row says of its log rate once linearised: a value with the variance of its error. */
export interface WorkingValue {
  readonly value: number
  readonly errorVariance: number
}

/** Beyond this many deviations the tail's own formula has the digits: λ = φ/Φ ≈ −x − 1/x. */
const FAR = -30
/** A row that says nothing: its weight is nought beside any other. */
const LEAST_INFORMATION = 1e-8

/**
 * An interval at whose end nothing was left tells only that at least so much went, c: the anode was used up on some day before.
 * Its likelihood Φ((μ − c)/s) in η = log k, μ = e^η·E, has with x = (μ − c)/s and λ = φ(x)/Φ(x)
 *
 *     slope λ·μ/s,   information λ·(x + λ)·(μ/s)²   ⇒   z = η + s/(μ·(x + λ)),   variance s²/(μ²·λ·(x + λ))
 *
 * the curvature of a censored normal in μ (Tobin, Econometrica 26 (1958) 24–36). Where the rate would have used it up anyway the
 * variance has no end and the row says nothing; where it would not, the row pulls as an exact loss of c does.
 *
 * @param logRate η
 * @param expected μ [g]
 * @param consumed c [g]
 * @param sd s, how well c is known [g]
 */
export function spentValue(logRate: number, expected: number, consumed: number, sd: number): WorkingValue {
  const x = (expected - consumed) / sd
  const tail = x < FAR ? -x - 1 / x : normalDensity(x) / normalCdf(x)
  const relative = expected / sd
  const information = Math.max(LEAST_INFORMATION, tail * (x + tail) * relative ** 2)
  return { value: logRate + (tail * relative) / information, errorVariance: 1 / information }
}
