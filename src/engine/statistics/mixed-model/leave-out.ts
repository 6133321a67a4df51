import { OutOfRange } from '../../errors.js'
import { dot } from '../linear-algebra/dense.js'
import type { BlockedModel } from './blocks.js'
import { type Functional, predictFunctional, projectedResponse, rowTimes, shrunkRow } from './solution.js'
import type { SolvedModel } from './solve-model.js'
import type { Prediction } from './types.js'

/** A row keeps less than this share of its precision once the fixed effects are fitted: it alone determines one. */
const SMALLEST_FREE_SHARE = 1e-10

/** A coefficient of y in a prediction that is no more than rounding error. */
const LARGEST_IDLE_COEFFICIENT = 1e-7

/**
 * A functional as if some rows had not been seen, variances held. Leaving rows I out is the same as giving each a
 * fixed effect of its own; with h_I the coefficients of y_I in the full prediction,
 *
 *     mean − h_I'·P_II⁻¹·(Py)_I,   variance + h_I'·P_II⁻¹·h_I
 *
 * Exact (Cook and Weisberg, Residuals and Influence in Regression (1982), 2.2.2, the mean shift model).
 *
 * @throws OutOfRange where no such prediction exists: a fixed effect that it needs rests on those rows alone
 */
export function predictWithout(
  model: BlockedModel,
  solved: SolvedModel,
  functional: Functional,
  rows: readonly number[],
): Prediction {
  const full = predictFunctional(model, solved, functional)
  const left = [...new Set(rows)]
  const misplaced = left.find((row) => !(Number.isInteger(row) && row >= 0 && row < model.rowCount))
  if (misplaced !== undefined) throw new OutOfRange('row left out', misplaced, `a row from 0 to ${model.rowCount - 1}`)
  const parts = left.map((row) => rowPart(model, solved, functional, full.remainder, row))
  const factor = left.map(() => new Float64Array(left.length))
  let { mean, variance } = full
  parts.forEach((part, a) => {
    // One step of the Cholesky factor of P_II, carrying (Py)_I and h_I along.
    const row = factor[a]!
    parts.slice(0, a).forEach((other, b) => {
      const pivot = factor[b]![b]!
      row[b] = pivot > 0 ? (precisionBetween(model, solved, part, other) - dot(row, 0, factor[b]!, 0, b)) / pivot : 0
      part.response -= row[b]! * other.response
      part.coefficient -= row[b]! * other.coefficient
    })
    const pivot = precisionBetween(model, solved, part, part) - dot(row, 0, row, 0, a)
    if (!(pivot > SMALLEST_FREE_SHARE * part.precision)) {
      if (Math.abs(part.coefficient) > LARGEST_IDLE_COEFFICIENT) refuse(part.row)
      part.response = 0
      part.coefficient = 0
      return
    }
    row[a] = Math.sqrt(pivot)
    part.response /= row[a]!
    part.coefficient /= row[a]!
    mean -= part.coefficient * part.response
    variance += part.coefficient ** 2
  })
  return { mean, variance }
}

/** What one row brings to the predictions that leave it out. */
interface RowPart {
  readonly row: number
  readonly shrunk: Float64Array
  /** (V⁻¹)_ii. */
  readonly precision: number
  /** (Py)_i, later after elimination of the rows before. */
  response: number
  /** h_i, likewise. */
  coefficient: number
}

function rowPart(
  model: BlockedModel,
  solved: SolvedModel,
  functional: Functional,
  remainder: Float64Array,
  row: number,
): RowPart {
  const index = model.blockOfRow[row]!
  const i = model.placeOfRow[row]!
  const block = model.blocks[index]!
  const { inverse, weighted } = solved.blocks[index]!
  const n = block.rows.length
  const shrunk = shrunkRow(model, solved, block, weighted, i)
  const covariance = functional.local.get(index)
  return {
    row,
    shrunk,
    precision: inverse[i * n + i]!,
    response: projectedResponse(solved, block, weighted, i),
    coefficient: dot(shrunk, 0, remainder, 0, model.order) + (covariance ? dot(inverse, i * n, covariance, 0, n) : 0),
  }
}

/** P_ij. */
function precisionBetween(model: BlockedModel, solved: SolvedModel, one: RowPart, other: RowPart): number {
  const index = model.blockOfRow[other.row]!
  const block = model.blocks[index]!
  const j = model.placeOfRow[other.row]!
  const { inverse, weighted } = solved.blocks[index]!
  const same = model.blockOfRow[one.row] === index
  const within = same ? inverse[model.placeOfRow[one.row]! * block.rows.length + j]! : 0
  return within - rowTimes(block, weighted, j, one.shrunk)
}

function refuse(row: number): never {
  throw new OutOfRange('row left out', row, 'one without which the fixed effects of the prediction can be estimated')
}
