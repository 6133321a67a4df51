import { OutOfRange } from '../errors.js'

/**
 * Weights of the expectation step for errors with a Student t distribution, a normal scale mixture: the expected
 * precision of a row, given its residual,
 *
 *     w = (ν + 1)/(ν + r²)
 *
 * A row's variance is then the normal one divided by w (`residualScale` = 1/w in the mixed model). Iterate: fit,
 * standardise, weigh, until the weights stay.
 *
 * @param standardisedResiduals r, residuals over their scale [–]
 * @param degreesOfFreedom ν > 0; large values give weights near 1
 * @returns by row, from 0 (far out) to (ν + 1)/ν
 * @throws OutOfRange for residuals that are not numbers, or ν not above 0
 *
 * Source: Lange, Little, Taylor, J. Am. Stat. Assoc. 84 (1989) 881–896, section 3.
 *
 * @example studentWeights([0, 1, 5], 4) // 1.25, 1, 0.1724…
 */
export function studentWeights(standardisedResiduals: ArrayLike<number>, degreesOfFreedom: number): Float64Array {
  if (!(degreesOfFreedom > 0 && Number.isFinite(degreesOfFreedom))) {
    throw new OutOfRange('degrees of freedom', degreesOfFreedom, 'above 0 and finite')
  }
  return Float64Array.from(standardisedResiduals, (residual, row) => {
    if (!Number.isFinite(residual)) throw new OutOfRange(`standardised residual of row ${row}`, residual, 'finite')
    return (degreesOfFreedom + 1) / (degreesOfFreedom + residual * residual)
  })
}
