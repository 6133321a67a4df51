import { factorInPlace, inverseFromFactor, logDeterminant } from '../linear-algebra/cholesky.js'
import { addScaled, dot, multiply } from '../linear-algebra/dense.js'
import type { Block, BlockedModel, LocalDesign } from './blocks.js'

/** One block at given variances. */
export interface SolvedBlock {
  /** V⁻¹, V the covariance of the rows from the local components and the known errors. */
  readonly inverse: Float64Array
  /** V⁻¹·[X, Z_global, y]. */
  readonly weighted: Float64Array
  readonly logDeterminant: number
}

/**
 * Sums over the blocks. W = [X, Z_global, y], A_g = Z_g·Z_g' for a local component g (for the residual the diagonal
 * of the scales); matrices are of order `order + 1`, row by row.
 */
export interface BlockSums {
  logDeterminant: number
  /** W'V⁻¹W. */
  readonly cross: Float64Array
  /** By local component: W'V⁻¹A_gV⁻¹W. */
  readonly single: readonly Float64Array[]
  /** By pair g ≤ h at [g][h − g]: W'V⁻¹A_gV⁻¹A_hV⁻¹W. */
  readonly double: readonly (readonly Float64Array[])[]
  /** tr(V⁻¹A_g). */
  readonly trace: Float64Array
  /** tr(V⁻¹A_gV⁻¹A_h) by pair g ≤ h. */
  readonly doubleTrace: readonly Float64Array[]
}

/** @returns undefined when V is not positive definite */
export function solveBlock(block: Block, variances: readonly number[]): SolvedBlock | undefined {
  const n = block.rows.length
  const factor = blockCovariance(block, variances)
  if (factorInPlace(factor, n) >= 0) return undefined
  const inverse = inverseFromFactor(factor, n)
  const weighted = multiply(inverse, block.design, n, n, block.columns.length)
  return { inverse, weighted, logDeterminant: logDeterminant(factor, n) }
}

function blockCovariance(block: Block, variances: readonly number[]): Float64Array {
  const n = block.rows.length
  const v = new Float64Array(n * n)
  for (let i = 0; i < n; i++) v[i * n + i] = block.errorVariance[i]!
  for (const { row, other, covariance } of block.errorCovariance) {
    v[row * n + other]! += covariance
    v[other * n + row]! += covariance
  }
  block.local.forEach(({ from, rows, weights }, component) => {
    for (let c = 0; c + 1 < from.length; c++) {
      for (let s = from[c]!; s < from[c + 1]!; s++) {
        const scaled = variances[component]! * weights[s]!
        for (let t = from[c]!; t < from[c + 1]!; t++) v[rows[s]! * n + rows[t]!]! += scaled * weights[t]!
      }
    }
  })
  return v
}

/** Z'·M, M of `width` columns: one row a level. */
export function transposeTimes(design: LocalDesign, matrix: Float64Array, width: number): Float64Array {
  const { from, rows, weights } = design
  const product = new Float64Array((from.length - 1) * width)
  for (let c = 0; c + 1 < from.length; c++) {
    for (let s = from[c]!; s < from[c + 1]!; s++) {
      addScaled(product, c * width, matrix, rows[s]! * width, width, weights[s]!)
    }
  }
  return product
}

/** Empty sums for a model. */
export function emptySums(model: BlockedModel): BlockSums {
  const size = (model.order + 1) ** 2
  const local = model.localComponents
  return {
    logDeterminant: 0,
    cross: new Float64Array(size),
    single: local.map(() => new Float64Array(size)),
    double: local.map((_, g) => local.slice(g).map(() => new Float64Array(size))),
    trace: new Float64Array(local.length),
    doubleTrace: local.map((_, g) => new Float64Array(local.length - g)),
  }
}

/** Adds a block to log|V| and W'V⁻¹W; with a sign of −1 takes it away. */
export function addCross(sums: BlockSums, order: number, block: Block, solved: SolvedBlock, sign: 1 | -1 = 1): void {
  const width = block.columns.length
  sums.logDeterminant += sign * solved.logDeterminant
  const cross = crossProduct(block.design, solved.weighted, block.rows.length, width)
  if (sign < 0) for (let k = 0; k < cross.length; k++) cross[k] = -cross[k]!
  scatter(sums.cross, order + 1, cross, block.columns)
}

/** Adds a block to the sums that the derivatives need. */
export function addDerivatives(sums: BlockSums, order: number, block: Block, solved: SolvedBlock): void {
  const n = block.rows.length
  const width = block.columns.length
  const products = block.local.map((design) => transposeTimes(design, solved.weighted, width))
  const projected = block.local.map((design) => transposeTimes(design, solved.inverse, n))
  block.local.forEach((design, g) => {
    const levels = design.from.length - 1
    const own = products[g]!
    scatter(sums.single[g]!, order + 1, crossProduct(own, own, levels, width), block.columns)
    for (let h = g; h < block.local.length; h++) {
      const others = block.local[h]!.from.length - 1
      // Z_h'V⁻¹Z_g, one row a level of h; its transpose is what stands between the two products.
      const between = transpose(projectedBetween(design, projected[h]!, others, n), others, levels)
      sums.doubleTrace[g]![h - g]! += dot(between, 0, between, 0, between.length)
      if (h === g) for (let c = 0; c < levels; c++) sums.trace[g]! += between[c * levels + c]!
      const inner = multiply(between, products[h]!, levels, others, width)
      scatter(sums.double[g]![h - g]!, order + 1, crossProduct(own, inner, levels, width), block.columns)
    }
  })
}

/** (Z_h'V⁻¹)·Z_g: rows are levels of h, columns levels of g. */
function projectedBetween({ from, rows, weights }: LocalDesign, projected: Float64Array, others: number, n: number) {
  const levels = from.length - 1
  const product = new Float64Array(others * levels)
  for (let d = 0; d < others; d++) {
    for (let c = 0; c < levels; c++) {
      for (let s = from[c]!; s < from[c + 1]!; s++)
        product[d * levels + c]! += weights[s]! * projected[d * n + rows[s]!]!
    }
  }
  return product
}

function transpose(matrix: Float64Array, rows: number, columns: number): Float64Array {
  const turned = new Float64Array(matrix.length)
  for (let i = 0; i < rows; i++) for (let j = 0; j < columns; j++) turned[j * rows + i] = matrix[i * columns + j]!
  return turned
}

/** A'·B for A and B of `rows` rows and `width` columns. */
function crossProduct(a: Float64Array, b: Float64Array, rows: number, width: number): Float64Array {
  const product = new Float64Array(width * width)
  for (let k = 0; k < rows; k++) {
    for (let i = 0; i < width; i++) addScaled(product, i * width, b, k * width, width, a[k * width + i]!)
  }
  return product
}

function scatter(into: Float64Array, size: number, part: Float64Array, columns: Int32Array): void {
  const width = columns.length
  for (let i = 0; i < width; i++) {
    const row = columns[i]! * size
    for (let j = 0; j < width; j++) into[row + columns[j]!]! += part[i * width + j]!
  }
}
