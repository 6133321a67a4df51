import quantile from '@stdlib/stats-base-dists-t-quantile'
import { OutOfRange } from '../../errors.js'

/**
 * Quantile of Student's t distribution.
 *
 * @param probability 0 < p < 1 [–]
 * @param degreesOfFreedom above 0, not necessarily whole
 * @throws OutOfRange outside those ranges
 * @example studentQuantile(0.95, 2) // 2.919985580353725
 */
export function studentQuantile(probability: number, degreesOfFreedom: number): number {
  if (!(probability > 0 && probability < 1)) throw new OutOfRange('probability', probability, 'between 0 and 1')
  if (!(degreesOfFreedom > 0 && Number.isFinite(degreesOfFreedom))) {
    throw new OutOfRange('degrees of freedom', degreesOfFreedom, 'above 0 and finite')
  }
  return quantile(probability, degreesOfFreedom)
}
