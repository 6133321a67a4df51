import { OutOfRange } from '../../errors.js'
import { dot } from '../linear-algebra/dense.js'
import type { BlockedModel } from './blocks.js'
import type { SolvedModel } from './solve-model.js'
import type { ProjectedContrasts, RowWeight } from './types.js'

/** A contrast within one block: d and V⁻¹d over the block's rows. */
interface BlockPart {
  readonly plain: Float64Array
  readonly whitened: Float64Array
}

/** What one contrast d brings: by block, its whitened part; then W'V⁻¹d over the columns met; and d'Py. */
interface ContrastParts {
  readonly blocks: ReadonlyMap<number, BlockPart>
  readonly small: ReadonlyMap<number, number>
  readonly response: number
}

/**
 * D'Py and D'PD for contrasts D of the rows, P = V⁻¹ − V⁻¹W·Ĉ·W'V⁻¹ (V of the blocks). A block is met only by the contrasts that
 * have rows in it, and Ĉ only between the columns that they meet, so that the work grows with the rows of the contrasts.
 *
 * @throws OutOfRange for a row that there is not
 */
export function projectContrasts(
  model: BlockedModel,
  solved: SolvedModel,
  contrasts: readonly (readonly RowWeight[])[],
): ProjectedContrasts {
  const parts = contrasts.map((members) => partsOf(model, solved, members))
  const count = parts.length
  const met = [...new Set(parts.flatMap(({ small }) => [...small.keys()]))]
  const width = met.length
  const small = new Float64Array(count * width)
  parts.forEach((part, a) => {
    met.forEach((column, k) => {
      small[a * width + k] = part.small.get(column) ?? 0
    })
  })
  const shrunk = shrink(model, solved, met, small)
  const precision = new Float64Array(count * count)
  parts.forEach((one, a) => {
    for (let b = 0; b <= a; b++) {
      const value = withinBlocks(one, parts[b]!) - dot(small, a * width, shrunk, b * width, width)
      precision[a * count + b] = value
      precision[b * count + a] = value
    }
  })
  return { response: Float64Array.from(parts, ({ response }) => response), precision }
}

function withinBlocks(one: ContrastParts, other: ContrastParts): number {
  let sum = 0
  for (const [index, { plain }] of one.blocks) {
    const part = other.blocks.get(index)
    if (part) sum += dot(plain, 0, part.whitened, 0, plain.length)
  }
  return sum
}

/** Ĉ·W'V⁻¹d over the columns met, for each contrast. */
function shrink(model: BlockedModel, solved: SolvedModel, met: readonly number[], small: Float64Array): Float64Array {
  const { stride } = model
  const { covariance } = solved.system
  const width = met.length
  const between = new Float64Array(width * width)
  met.forEach((row, i) => {
    met.forEach((column, j) => {
      between[i * width + j] = covariance[row * stride + column]!
    })
  })
  const shrunk = new Float64Array(small.length)
  for (let from = 0; from < small.length; from += width)
    for (let i = 0; i < width; i++) shrunk[from + i] = dot(between, i * width, small, from, width)
  return shrunk
}

function partsOf(model: BlockedModel, solved: SolvedModel, members: readonly RowWeight[]): ContrastParts {
  const small = new Map<number, number>()
  const blocks = new Map<number, BlockPart>()
  let response = 0
  for (const { row, weight } of members) {
    if (!(Number.isInteger(row) && row >= 0 && row < model.rowCount)) {
      throw new OutOfRange('row of a contrast', row, `a row from 0 to ${model.rowCount - 1}`)
    }
    const index = model.blockOfRow[row]!
    const block = model.blocks[index]!
    const { inverse, weighted } = solved.blocks[index]!
    const n = block.rows.length
    const width = block.columns.length
    const i = model.placeOfRow[row]!
    const part = blocks.get(index) ?? { plain: new Float64Array(n), whitened: new Float64Array(n) }
    blocks.set(index, part)
    part.plain[i]! += weight
    for (let j = 0; j < n; j++) part.whitened[j]! += weight * inverse[i * n + j]!
    for (let k = 0; k + 1 < width; k++) {
      const column = block.columns[k]!
      small.set(column, (small.get(column) ?? 0) + weight * weighted[i * width + k]!)
    }
    response += weight * weighted[i * width + width - 1]!
  }
  for (const [column, value] of small) response -= value * solved.system.solution[column]!
  return { blocks, small, response }
}
