import { OutOfRange } from '../../errors.js'
import { type BlockedModel, mergeBlocks } from './blocks.js'
import type { FittedState } from './fitted-model.js'
import { checkTarget } from './functional.js'
import { SystemRoom, solveSmallSystem } from './small-system.js'
import { addCross, type SolvedBlock, solveBlock } from './solve-block.js'
import { mirrorLower, type SolvedModel } from './solve-model.js'
import type { ExtraRow, Membership, MixedModelData, RandomTerm } from './types.js'

/** A merged block beyond this many rows takes longer than cutting the data afresh. */
const LARGEST_MERGED_BLOCK = 300

/**
 * The state with rows added, variances held: the blocks that the rows touch are merged and solved again, the small
 * system is corrected by the difference, everything else is kept. Exact: blocks may always be merged.
 *
 * @param data those of the state and the rows
 * @returns undefined where the data must be cut afresh: a new effect of the small system, or too large a block
 * @throws OutOfRange where the covariance of y is no longer positive definite
 */
export function extendState(state: FittedState, data: MixedModelData): FittedState | undefined {
  const { model, centred, solved } = state
  const grown = model.globalSpans.some(({ component, count }) => data.random[component]!.levels.length > count)
  const merged = touchedBlocks(state, data)
  let size = data.y.length - model.rowCount
  for (const index of merged) size += model.blocks[index]!.rows.length
  if (grown || size > LARGEST_MERGED_BLOCK) return undefined

  const y = new Float64Array(data.y.length)
  y.set(centred.y)
  for (let row = model.rowCount; row < y.length; row++) {
    y[row] = data.fixed.reduce((left, column, j) => left - column[row]! * centred.offset[j]!, data.y[row]!)
  }
  const next = mergeBlocks(model, data, y, merged)
  return { data, centred: { ...centred, y }, model: next, solved: solveMerged(model, solved, next, merged) }
}

/** The solution of a model whose last block stands for some of another's. */
function solveMerged(
  model: BlockedModel,
  solved: SolvedModel,
  next: BlockedModel,
  merged: ReadonlySet<number>,
): SolvedModel {
  const { variances } = solved
  const block = next.blocks.at(-1)!
  const own: SolvedBlock = {
    inverse: new Float64Array(block.rows.length ** 2),
    weighted: new Float64Array(block.rows.length * block.columns.length),
    logDeterminant: 0,
  }
  if (!solveBlock(next, block, variances, own)) {
    throw new OutOfRange('covariance of the added rows', 'singular', 'positive definite')
  }
  const cross = solved.cross.slice()
  const room = new Float64Array(next.widest ** 2)
  let logDeterminant = solved.logDeterminant + own.logDeterminant
  for (const index of merged) {
    const before = solved.blocks[index]!
    addCross(model, cross, model.blocks[index]!, before, -1, room)
    logDeterminant -= before.logDeterminant
  }
  addCross(next, cross, block, own, 1, room)
  mirrorLower(cross, model.stride)
  const system = solveSmallSystem(next, cross, logDeterminant, variances, new SystemRoom(model.stride))
  if (!system) throw new OutOfRange('equations of the effects', 'singular', 'positive definite')
  const blocks = [...solved.blocks.filter((_, index) => !merged.has(index)), own]
  return { variances, blocks, logDeterminant, cross, system }
}

/** Blocks that share a level of an eliminated term, or a known error covariance, with the added rows. */
function touchedBlocks({ model }: FittedState, data: MixedModelData): ReadonlySet<number> {
  const touched = new Set<number>()
  const added = data.y.length - model.rowCount
  for (const component of model.localTerms) {
    const { membership } = data.random[component]!
    const levels = new Set(membership.slice(-added).flatMap((members) => members.map(({ level }) => level)))
    membership.slice(0, -added).forEach((members, row) => {
      if (members.some(({ level }) => levels.has(level))) touched.add(model.blockOfRow[row]!)
    })
  }
  for (const { row, other } of data.errorCovariance ?? []) {
    if (Math.max(row, other) >= model.rowCount && Math.min(row, other) < model.rowCount) {
      touched.add(model.blockOfRow[Math.min(row, other)]!)
    }
  }
  return touched
}

/**
 * The data with rows added; levels not met before are added to their terms.
 *
 * @throws OutOfRange for rows that do not fit the model
 */
export function appendRows(data: MixedModelData, rows: readonly ExtraRow[]): MixedModelData {
  const count = data.y.length
  const terms = new Map(data.random.map((term) => [term.name, term]))
  for (const { target } of rows) checkTarget(target, data.fixed.length, terms)
  const scaled = data.residualScale !== undefined || rows.some((row) => row.residualScale !== undefined)
  const scale = data.residualScale ?? new Float64Array(count).fill(1)
  return {
    ...data,
    y: append(data.y, rows, (row) => row.y),
    fixed: data.fixed.map((column, j) => append(column, rows, (row) => row.target.fixed[j]!)),
    random: data.random.map((term) => appendMembers(term, rows)),
    errorVariance: append(data.errorVariance, rows, (row) => row.errorVariance),
    errorCovariance: [
      ...(data.errorCovariance ?? []),
      ...rows.flatMap((row, k) => (row.errorCovariance ?? []).map((entry) => ({ row: count + k, ...entry }))),
    ],
    ...(scaled && { residualScale: append(scale, rows, (row) => row.residualScale ?? 1) }),
  }
}

function append(values: Float64Array, rows: readonly ExtraRow[], of: (row: ExtraRow) => number): Float64Array {
  const longer = new Float64Array(values.length + rows.length)
  longer.set(values)
  rows.forEach((row, k) => {
    longer[values.length + k] = of(row)
  })
  return longer
}

function appendMembers(term: RandomTerm, rows: readonly ExtraRow[]): RandomTerm {
  const levels = [...term.levels]
  const indices = new Map(levels.map((level, l) => [level, l]))
  const added = rows.map(({ target }): Membership[] =>
    (target.random[term.name] ?? []).map(({ level, weight }) => {
      const index = indices.get(level) ?? levels.length
      if (index === levels.length) {
        levels.push(level)
        indices.set(level, index)
      }
      return { level: index, weight }
    }),
  )
  return { name: term.name, levels, membership: [...term.membership, ...added] }
}
