import { NotConverged, OutOfRange } from '../../errors.js'
import { studentQuantile } from '../distributions/student-t.js'
import { type Curve, type CurvePoint, holding } from './curve.js'
import { type CurveFit, fitCurve } from './fit-curve.js'

/** Ends of what a level of confidence leaves for a parameter; `null` where the data set none. */
export interface ProfileLimits {
  readonly lower: number | null
  readonly upper: number | null
}

/** Outward in steps that grow by half, up to some ten thousand standard errors: further out there is no limit. */
const STEP_GROWTH = 1.5
const MOST_STEPS = 25
const MOST_HALVINGS = 200

/**
 * Limits of one parameter by profile likelihood: the values at which the best fit of all others has
 *
 *     RSS(θ) = RSS·(1 + t²/(n − p)),  t the two-sided Student quantile
 *
 * They follow the curve's bend, which a standard error does not. To have them for something else, say a crossing, write the
 * curve with that as a parameter.
 *
 * @param fit of the curve to the points, its residuals not all zero
 * @param index of the parameter
 * @param level between 0 and 1 [–]
 * @throws OutOfRange for another level, or a fit without error
 *
 * Source: Bates and Watts, Nonlinear Regression Analysis (1988), ch. 6.
 */
export function profileLimits(
  curve: Curve,
  points: readonly CurvePoint[],
  fit: CurveFit,
  { index, level }: { readonly index: number; readonly level: number },
): ProfileLimits {
  if (!(level > 0 && level < 1)) throw new OutOfRange('confidence level', level, 'between 0 and 1')
  const se = fit.se[index]!
  if (!(se > 0 && se < Infinity)) throw new OutOfRange('standard error', se, 'above 0 and finite')
  const t = studentQuantile(0.5 + level / 2, fit.degreesOfFreedom)
  const limit = fit.residualSumOfSquares * (1 + t ** 2 / fit.degreesOfFreedom)
  const walk = (direction: 1 | -1) => {
    const profile = profileFrom(curve, points, fit, index)
    return limitAlong((distance) => profile(fit.parameters[index]! + direction * distance) - limit, t * se)
  }
  const [below, above] = [walk(-1), walk(1)]
  return {
    lower: below === null ? null : fit.parameters[index]! - below,
    upper: above === null ? null : fit.parameters[index]! + above,
  }
}

/** Sum of squares of the best fit with the parameter held; each starts where the last one ended. */
function profileFrom(curve: Curve, points: readonly CurvePoint[], fit: CurveFit, index: number) {
  let start = fit.parameters.filter((_, i) => i !== index)
  return (value: number): number => {
    try {
      const held = fitCurve(holding(curve, index, value), points, start)
      start = [...held.parameters]
      return held.residualSumOfSquares
    } catch (error) {
      // Out of the curve's domain, where nothing fits.
      if (error instanceof OutOfRange || error instanceof NotConverged) return Infinity
      throw error
    }
  }
}

/** The distance at which the excess turns positive; `null` where it never does. */
function limitAlong(excess: (distance: number) => number, firstStep: number): number | null {
  let inside = 0
  let outside = firstStep
  for (let step = 0; !(excess(outside) > 0); step++) {
    if (step === MOST_STEPS) return null
    inside = outside
    outside *= STEP_GROWTH
  }
  for (let halving = 0; halving < MOST_HALVINGS; halving++) {
    const middle = (inside + outside) / 2
    if (middle === inside || middle === outside) break
    if (excess(middle) > 0) outside = middle
    else inside = middle
  }
  return (inside + outside) / 2
}
