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

/** What one contrast d brings: by block, its whitened part, then W'V⁻¹d over the small system and Ĉ times that. */
interface ContrastParts {
  readonly blocks: ReadonlyMap<number, BlockPart>
  readonly small: Float64Array
  readonly met: readonly number[]
  readonly shrunk: Float64Array
  readonly response: number
}

/**
 * D'Py and D'PD for contrasts D of the rows, P = V⁻¹ − V⁻¹W·Ĉ·W'V⁻¹ (V of the blocks). A block is met only by the contrasts that
 * have rows in it, so that the work grows with the rows of the contrasts.
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
  const precision = new Float64Array(count * count)
  parts.forEach((one, a) => {
    for (let b = 0; b <= a; b++) {
      const value = between(one, parts[b]!)
      precision[a * count + b] = value
      precision[b * count + a] = value
    }
  })
  return { response: Float64Array.from(parts, ({ response }) => response), precision }
}

function between(one: ContrastParts, other: ContrastParts): number {
  let sum = 0
  for (const [index, { plain }] of one.blocks) {
    const part = other.blocks.get(index)
    if (part) sum += dot(plain, 0, part.whitened, 0, plain.length)
  }
  for (const at of one.met) sum -= one.small[at]! * other.shrunk[at]!
  return sum
}

function partsOf(model: BlockedModel, solved: SolvedModel, members: readonly RowWeight[]): ContrastParts {
  const { stride } = model
  const small = new Float64Array(stride)
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
    for (let k = 0; k + 1 < width; k++) small[block.columns[k]!]! += weight * weighted[i * width + k]!
    response += weight * weighted[i * width + width - 1]!
  }
  const met: number[] = []
  const shrunk = new Float64Array(stride)
  for (let at = 0; at < stride; at++) {
    if (small[at] === 0) continue
    met.push(at)
    response -= small[at]! * solved.system.solution[at]!
    const row = at * stride
    for (let j = 0; j < stride; j++) shrunk[j]! += small[at]! * solved.system.covariance[row + j]!
  }
  return { blocks, small, met, shrunk, response }
}
