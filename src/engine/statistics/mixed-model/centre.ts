import { OutOfRange } from '../../errors.js'
import { addScaled, dot } from '../linear-algebra/dense.js'
import type { MixedModelData } from './types.js'

/** A column whose part across the columns before it is below this share of its length adds nothing but rounding error. */
const SMALLEST_INDEPENDENT_SHARE = 1e-9

/** y less a known combination of the fixed effects: the same restricted likelihood, with less cancellation. */
export interface CentredResponse {
  /** y − X·offset. */
  readonly y: Float64Array
  /** To be added to the effects estimated from the centred y. */
  readonly offset: Float64Array
  /** Columns without a prior. */
  readonly flatCount: number
  /** Mean square about the fixed effects; 0 where no degrees of freedom are left. */
  readonly meanSquare: number
}

/**
 * Centres y on the prior means of the columns that have a prior and on the least-squares fit of the others
 * (Gram–Schmidt, each column made orthogonal twice).
 *
 * @throws OutOfRange naming the first column without a prior that the others before it make up
 */
export function centreResponse(data: MixedModelData): CentredResponse {
  const n = data.y.length
  const y = Float64Array.from(data.y)
  const offset = new Float64Array(data.fixed.length)
  const flat: number[] = []
  data.fixed.forEach((column, j) => {
    if (!((data.fixedPrior?.precision[j] ?? 0) > 0)) {
      flat.push(j)
      return
    }
    offset[j] = data.fixedPrior!.mean[j]!
    addScaled(y, 0, column, 0, n, -offset[j]!)
  })
  const { basis, upper } = orthogonalise(data, flat)
  const fitted = basis.map((q) => {
    const share = dot(q, 0, y, 0, n)
    addScaled(y, 0, q, 0, n, -share)
    return share
  })
  for (let j = flat.length - 1; j >= 0; j--) {
    let value = fitted[j]!
    for (let k = j + 1; k < flat.length; k++) value -= upper[j]![k]! * offset[flat[k]!]!
    offset[flat[j]!] = value / upper[j]![j]!
  }
  const free = n - flat.length
  return { y, offset, flatCount: flat.length, meanSquare: free > 0 ? dot(y, 0, y, 0, n) / free : 0 }
}

function orthogonalise(data: MixedModelData, flat: readonly number[]) {
  const n = data.y.length
  const basis: Float64Array[] = []
  const upper = flat.map(() => new Float64Array(flat.length))
  flat.forEach((j, position) => {
    const column = Float64Array.from(data.fixed[j]!)
    const length = Math.sqrt(dot(column, 0, column, 0, n))
    for (let pass = 0; pass < 2; pass++) {
      basis.forEach((q, k) => {
        const share = dot(q, 0, column, 0, n)
        upper[k]![position]! += share
        addScaled(column, 0, q, 0, n, -share)
      })
    }
    const left = Math.sqrt(dot(column, 0, column, 0, n))
    if (!(left > SMALLEST_INDEPENDENT_SHARE * length)) {
      throw new OutOfRange(
        `fixed effect "${data.fixedNames[j]}"`,
        'a combination of them',
        'independent of those before it',
      )
    }
    upper[position]![position] = left
    basis.push(column.map((value) => value / left))
  })
  return { basis, upper }
}
