import type { CentredResponse } from './centre.js'
import { choosePartition } from './partition.js'
import type { MixedModelData } from './types.js'

/** Z of one component within a block, column by column: rows (of the block) and weights of each level. */
export interface LocalDesign {
  /** Level of the term that each column stands for; empty for the residual. */
  readonly levels: Int32Array
  /** Column c holds entries from[c] … from[c + 1] − 1. */
  readonly from: Int32Array
  readonly rows: Int32Array
  readonly weights: Float64Array
}

/** Rows that are eliminated together. */
export interface Block {
  /** Row numbers in the data. */
  readonly rows: Int32Array
  /** Columns of the small system met here, then (last) the column of y. */
  readonly columns: Int32Array
  /** Rows × columns: fixed effects, weights of global effects, centred y. */
  readonly design: Float64Array
  /** By local component, the residual last. */
  readonly local: readonly LocalDesign[]
  readonly errorVariance: Float64Array
  /** Known covariances, rows numbered within the block. */
  readonly errorCovariance: readonly { row: number; other: number; covariance: number }[]
}

/** The model cut into blocks and one small system over (β, global effects). */
export interface BlockedModel {
  readonly blocks: readonly Block[]
  readonly rowCount: number
  readonly fixedCount: number
  readonly flatCount: number
  readonly precision: Float64Array
  /** Order of the small system. */
  readonly order: number
  /** Components of the terms in the order of the data, then the residual. */
  readonly componentNames: readonly string[]
  /** Components eliminated in the blocks; the residual last. */
  readonly localComponents: readonly number[]
  /** Components in the small system: their effects are columns from … from + count − 1. */
  readonly globalComponents: readonly { readonly component: number; readonly from: number; readonly count: number }[]
  /** By row of the data: its block, and its place there. */
  readonly blockOfRow: Int32Array
  readonly placeOfRow: Int32Array
}

/** Cuts the data into blocks. */
export function blockModel(data: MixedModelData, centred: CentredResponse, residualName: string): BlockedModel {
  const { blocks, withinBlock } = choosePartition(data)
  const fixedCount = data.fixed.length
  const localComponents: number[] = []
  const globalComponents: { component: number; from: number; count: number }[] = []
  let order = fixedCount
  data.random.forEach((term, component) => {
    if (withinBlock[component]) localComponents.push(component)
    else {
      globalComponents.push({ component, from: order, count: term.levels.length })
      order += term.levels.length
    }
  })
  localComponents.push(data.random.length)
  const shape = { order, localComponents, globalComponents }
  const covariances = covariancesByRow(data)
  const made = blocks.map((rows) => makeBlock(data, centred.y, Int32Array.from(rows), shape, covariances))
  return {
    blocks: made,
    rowCount: data.y.length,
    fixedCount,
    flatCount: centred.flatCount,
    precision: Float64Array.from({ length: fixedCount }, (_, j) => data.fixedPrior?.precision[j] ?? 0),
    order,
    componentNames: [...data.random.map((term) => term.name), residualName],
    localComponents,
    globalComponents,
    ...placeRows(made, data.y.length),
  }
}

function placeRows(blocks: readonly Block[], rowCount: number) {
  const blockOfRow = new Int32Array(rowCount)
  const placeOfRow = new Int32Array(rowCount)
  blocks.forEach(({ rows }, block) => {
    rows.forEach((row, place) => {
      blockOfRow[row] = block
      placeOfRow[row] = place
    })
  })
  return { blockOfRow, placeOfRow }
}

/** Known covariances by their first row, of all rows or of some. */
function covariancesByRow(
  data: MixedModelData,
  rows?: ReadonlySet<number>,
): ReadonlyMap<number, { other: number; covariance: number }[]> {
  const byRow = new Map<number, { other: number; covariance: number }[]>()
  for (const { row, other, covariance } of data.errorCovariance ?? []) {
    if (rows && !rows.has(row)) continue
    const entries = byRow.get(row)
    if (entries) entries.push({ other, covariance })
    else byRow.set(row, [{ other, covariance }])
  }
  return byRow
}

/** What a block needs to know of the model. */
type Shape = Pick<BlockedModel, 'order' | 'localComponents' | 'globalComponents'>

/** Adds rows to a model in place of some of its blocks: these, merged with the rows, become its last block. */
export function mergeBlocks(
  model: BlockedModel,
  data: MixedModelData,
  y: Float64Array,
  merged: ReadonlySet<number>,
): BlockedModel {
  const kept = model.blocks.filter((_, index) => !merged.has(index))
  const rows = [...merged].flatMap((index) => [...model.blocks[index]!.rows])
  for (let row = model.rowCount; row < data.y.length; row++) rows.push(row)
  const own = Int32Array.from(rows).sort()
  const blocks = [...kept, makeBlock(data, y, own, model, covariancesByRow(data, new Set(rows)))]
  return { ...model, blocks, rowCount: data.y.length, ...placeRows(blocks, data.y.length) }
}

function makeBlock(
  data: MixedModelData,
  y: Float64Array,
  rows: Int32Array,
  shape: Shape,
  covariances: ReturnType<typeof covariancesByRow>,
): Block {
  const { columns, design } = makeDesign(data, y, rows, shape)
  const local = shape.localComponents
    .slice(0, -1)
    .map((term) => localDesign(rows, (row) => data.random[term]!.membership[row]!))
  local.push(residualDesign(data, rows))
  const position = new Map([...rows].map((row, i) => [row, i]))
  const errorCovariance = [...rows].flatMap((row, i) =>
    (covariances.get(row) ?? []).map(({ other, covariance }) => ({ row: i, other: position.get(other)!, covariance })),
  )
  return {
    rows,
    columns,
    design,
    local,
    errorVariance: Float64Array.from(rows, (row) => data.errorVariance[row]!),
    errorCovariance,
  }
}

function makeDesign(data: MixedModelData, y: Float64Array, rows: Int32Array, shape: Shape) {
  const fixedCount = data.fixed.length
  const entries: { i: number; column: number; weight: number }[] = []
  for (const { component, from } of shape.globalComponents) {
    rows.forEach((row, i) => {
      for (const { level, weight } of data.random[component]!.membership[row]!)
        entries.push({ i, column: from + level, weight })
    })
  }
  const met = [...new Set(entries.map((entry) => entry.column))].sort((a, b) => a - b)
  const place = new Map(met.map((column, k) => [column, fixedCount + k]))
  const width = fixedCount + met.length + 1
  const design = new Float64Array(rows.length * width)
  rows.forEach((row, i) => {
    for (let j = 0; j < fixedCount; j++) design[i * width + j] = data.fixed[j]![row]!
    design[i * width + width - 1] = y[row]!
  })
  for (const { i, column, weight } of entries) design[i * width + place.get(column)!]! += weight
  const columns = Int32Array.from([...Array(fixedCount).keys(), ...met, shape.order])
  return { columns, design }
}

function localDesign(
  rows: Int32Array,
  members: (row: number) => readonly { level: number; weight: number }[],
): LocalDesign {
  const byLevel = new Map<number, Map<number, number>>()
  rows.forEach((row, i) => {
    for (const { level, weight } of members(row)) {
      const entries = byLevel.get(level) ?? new Map<number, number>()
      entries.set(i, (entries.get(i) ?? 0) + weight)
      byLevel.set(level, entries)
    }
  })
  const levels = [...byLevel.keys()].sort((a, b) => a - b)
  const from = new Int32Array(levels.length + 1)
  const entries: [number, number][] = []
  levels.forEach((level, c) => {
    entries.push(...byLevel.get(level)!)
    from[c + 1] = entries.length
  })
  return {
    levels: Int32Array.from(levels),
    from,
    rows: Int32Array.from(entries, ([row]) => row),
    weights: Float64Array.from(entries, ([, weight]) => weight),
  }
}

function residualDesign(data: MixedModelData, rows: Int32Array): LocalDesign {
  return {
    levels: new Int32Array(0),
    from: Int32Array.from({ length: rows.length + 1 }, (_, i) => i),
    rows: Int32Array.from(rows, (_, i) => i),
    weights: Float64Array.from(rows, (row) => Math.sqrt(data.residualScale?.[row] ?? 1)),
  }
}
