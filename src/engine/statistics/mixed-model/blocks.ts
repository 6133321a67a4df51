import { paddedOrder } from '../linear-algebra/tiled.js'
import type { CentredResponse } from './centre.js'
import { BlockCutter } from './cut-block.js'
import { type FlatTerm, flattenTerm } from './flat-terms.js'
import { choosePartition } from './partition.js'
import type { MixedModelData } from './types.js'

/** Z of one term within a block, column by column: rows (of the block) and weights of each level. */
export interface LocalDesign {
  /** Level of the term that each column stands for. */
  readonly levels: Int32Array
  /** Column c holds entries from[c] … from[c + 1] − 1, in the order of the rows. */
  readonly from: Int32Array
  readonly rows: Int32Array
  readonly weights: Float64Array
}

/** Rows that are eliminated together. What depends on y and the errors is in `RowValues`, from `at` on. */
export interface Block {
  /** Row numbers in the data. */
  readonly rows: Int32Array
  /** Place of the first row in the arrays of `RowValues`. */
  readonly at: number
  /** Columns of the small system met here, ascending, then (last) the column of y. */
  readonly columns: Int32Array
  /** [X, Z_global] row by row, non-zero entries only: row i has designFrom[i] … designFrom[i + 1] − 1. */
  readonly designFrom: Int32Array
  /** Index into `columns`. */
  readonly designPlace: Int32Array
  readonly designWeight: Float64Array
  /** By local term. */
  readonly local: readonly LocalDesign[]
  /** Known covariances: pairs of rows of the block, one after the other; their values from `linkAt` on. */
  readonly links: Int32Array
  readonly linkAt: number
}

/** What one fit adds to the blocks, in the order of their rows. */
export interface RowValues {
  /** Centred y. */
  readonly y: Float64Array
  readonly errorVariance: Float64Array
  readonly residualScale: Float64Array
  readonly covariance: Float64Array
}

/** Columns of the small system that hold the effects of one term: from … from + count − 1. */
export interface GlobalSpan {
  readonly component: number
  readonly from: number
  readonly count: number
}

/** A design cut into blocks and one small system over (β, global effects): serves every y and every error. */
export interface BlockedDesign {
  readonly blocks: readonly Block[]
  readonly fixedCount: number
  /** Order of the small system. */
  readonly order: number
  /** Length of a row of the matrices of the small system: its order and one more for y, padded. */
  readonly stride: number
  /** Most columns of a block, that of y included. */
  readonly widest: number
  /** Components of the terms in the order of the data, then the residual. */
  readonly componentNames: readonly string[]
  /** Terms eliminated in the blocks. */
  readonly localTerms: readonly number[]
  readonly globalSpans: readonly GlobalSpan[]
  /** By row of the data: its block, and its place there. */
  readonly blockOfRow: Int32Array
  readonly placeOfRow: Int32Array
}

/** A design with the values of one fit. */
export interface BlockedModel extends BlockedDesign {
  readonly values: RowValues
  readonly rowCount: number
  readonly flatCount: number
  readonly precision: Float64Array
}

/** Cuts a design into blocks. */
export function cutDesign(data: MixedModelData, residualName: string): BlockedDesign {
  const terms = data.random.map(flattenTerm)
  const links = data.errorCovariance ?? []
  const { rows, from, withinBlock } = choosePartition(data.y.length, data.fixed.length, terms, links)
  const shape = shapeOf(data.fixed.length, terms, withinBlock)
  const cutter = new BlockCutter(data.fixed, terms, shape)
  const blockCount = from.length - 1
  const places = placeRows(
    Array.from({ length: blockCount }, (_, b) => rows.subarray(from[b]!, from[b + 1]!)),
    data.y.length,
  )
  const linked = linksByBlock(links, places, blockCount)
  const blocks = Array.from({ length: blockCount }, (_, b) => {
    const [linkAt, linkEnd] = [linked.from[b]!, linked.from[b + 1]!]
    return cutter.cut(
      rows.subarray(from[b]!, from[b + 1]!),
      from[b]!,
      linked.pairs.subarray(2 * linkAt, 2 * linkEnd),
      linkAt,
    )
  })
  return {
    blocks,
    fixedCount: data.fixed.length,
    ...shape,
    ...places,
    stride: paddedOrder(shape.order + 1),
    widest: blocks.reduce((most, { columns }) => Math.max(most, columns.length), 0),
    componentNames: [...data.random.map((term) => term.name), residualName],
  }
}

/** Which terms are eliminated, and where the effects of the others stand in the small system. */
function shapeOf(fixedCount: number, terms: readonly FlatTerm[], withinBlock: readonly boolean[]) {
  const localTerms: number[] = []
  const globalSpans: GlobalSpan[] = []
  let order = fixedCount
  terms.forEach(({ levelCount }, component) => {
    if (withinBlock[component]) localTerms.push(component)
    else {
      globalSpans.push({ component, from: order, count: levelCount })
      order += levelCount
    }
  })
  return { order, localTerms, globalSpans }
}

/** Known covariances in the order of the blocks: pairs of places. Within a block they keep the order of the data. */
function linksByBlock(
  links: NonNullable<MixedModelData['errorCovariance']>,
  { blockOfRow, placeOfRow }: Pick<BlockedDesign, 'blockOfRow' | 'placeOfRow'>,
  blockCount: number,
): { from: Int32Array; pairs: Int32Array } {
  const from = new Int32Array(blockCount + 1)
  for (const { row } of links) from[blockOfRow[row]! + 1]!++
  for (let b = 0; b < blockCount; b++) from[b + 1]! += from[b]!
  const next = from.slice()
  const pairs = new Int32Array(2 * links.length)
  for (const { row, other } of links) {
    const at = next[blockOfRow[row]!]!++
    pairs[2 * at] = placeOfRow[row]!
    pairs[2 * at + 1] = placeOfRow[other]!
  }
  return { from, pairs }
}

/** A design with the y and the errors of some data of that design. */
export function blockModel(design: BlockedDesign, data: MixedModelData, centred: CentredResponse): BlockedModel {
  return {
    ...design,
    values: rowValues(design, data, centred.y),
    rowCount: data.y.length,
    flatCount: centred.flatCount,
    precision: Float64Array.from({ length: design.fixedCount }, (_, j) => data.fixedPrior?.precision[j] ?? 0),
  }
}

function rowValues(design: BlockedDesign, data: MixedModelData, centredY: Float64Array): RowValues {
  const n = data.y.length
  const y = new Float64Array(n)
  const errorVariance = new Float64Array(n)
  const residualScale = new Float64Array(n).fill(1)
  for (const { rows, at } of design.blocks) {
    for (let i = 0; i < rows.length; i++) {
      const row = rows[i]!
      y[at + i] = centredY[row]!
      errorVariance[at + i] = data.errorVariance[row]!
      if (data.residualScale) residualScale[at + i] = data.residualScale[row]!
    }
  }
  const links = data.errorCovariance ?? []
  const covariance = new Float64Array(links.length)
  const next = Int32Array.from(design.blocks, ({ linkAt }) => linkAt)
  for (const { row, covariance: value } of links) covariance[next[design.blockOfRow[row]!]!++] = value
  return { y, errorVariance, residualScale, covariance }
}

/**
 * Adds rows to a model in place of some of its blocks: these, merged with the rows, become its last block, with values
 * behind those that were there.
 */
export function mergeBlocks(
  model: BlockedModel,
  data: MixedModelData,
  centredY: Float64Array,
  merged: ReadonlySet<number>,
): BlockedModel {
  const gathered = [...merged].flatMap((index) => [...model.blocks[index]!.rows])
  for (let row = model.rowCount; row < data.y.length; row++) gathered.push(row)
  const rows = Int32Array.from(gathered).sort()
  const place = new Map([...rows].map((row, i) => [row, i]))
  const links = (data.errorCovariance ?? []).filter(({ row }) => place.has(row))
  const terms: FlatTerm[] = data.random.map(flattenTerm)
  const block = new BlockCutter(data.fixed, terms, model).cut(
    rows,
    model.values.y.length,
    Int32Array.from(links.flatMap(({ row, other }) => [place.get(row)!, place.get(other)!])),
    model.values.covariance.length,
  )
  const blocks = [...model.blocks.filter((_, index) => !merged.has(index)), block]
  const { values } = model
  const take = (known: Float64Array, of: (row: number) => number) => appended(known, Float64Array.from(rows, of))
  return {
    ...model,
    ...placeRows(
      blocks.map((own) => own.rows),
      data.y.length,
    ),
    blocks,
    rowCount: data.y.length,
    widest: Math.max(model.widest, block.columns.length),
    values: {
      y: take(values.y, (row) => centredY[row]!),
      errorVariance: take(values.errorVariance, (row) => data.errorVariance[row]!),
      residualScale: take(values.residualScale, (row) => data.residualScale?.[row] ?? 1),
      covariance: appended(
        values.covariance,
        Float64Array.from(links, ({ covariance }) => covariance),
      ),
    },
  }
}

function appended(values: Float64Array, more: Float64Array): Float64Array {
  const longer = new Float64Array(values.length + more.length)
  longer.set(values)
  longer.set(more, values.length)
  return longer
}

function placeRows(rowsOfBlocks: readonly Int32Array[], rowCount: number) {
  const blockOfRow = new Int32Array(rowCount)
  const placeOfRow = new Int32Array(rowCount)
  for (let b = 0; b < rowsOfBlocks.length; b++) {
    const rows = rowsOfBlocks[b]!
    for (let i = 0; i < rows.length; i++) {
      blockOfRow[rows[i]!] = b
      placeOfRow[rows[i]!] = i
    }
  }
  return { blockOfRow, placeOfRow }
}
