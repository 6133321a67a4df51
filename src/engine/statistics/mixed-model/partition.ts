import type { FlatTerm } from './flat-terms.js'
import type { ErrorCovariance } from './types.js'

/** Rows in blocks, and the terms whose effects each lie within one block. */
export interface Partition {
  /** Rows, block by block, ascending within each; blocks in the order of their first row. */
  readonly rows: Int32Array
  /** Block b holds rows[from[b]] … rows[from[b + 1] − 1]. */
  readonly from: Int32Array
  /** Per term of the data: is every level of it met in one block only? */
  readonly withinBlock: readonly boolean[]
}

/**
 * Chooses what to eliminate: rows that share a level of the chosen term (or a known error covariance) form a block;
 * terms that stay within the blocks are eliminated with them, the others make up the small system. Every term is
 * tried, and no term at all; the one with the least work wins.
 */
export function choosePartition(
  rowCount: number,
  fixedCount: number,
  terms: readonly FlatTerm[],
  links: readonly ErrorCovariance[],
): Partition {
  const candidates = [undefined, ...terms].map((term) => {
    const partition = partitionBy(rowCount, terms, links, term)
    return { partition, work: work(fixedCount, terms, partition) }
  })
  return candidates.reduce((best, next) => (next.work < best.work ? next : best)).partition
}

function partitionBy(
  rowCount: number,
  terms: readonly FlatTerm[],
  links: readonly ErrorCovariance[],
  term: FlatTerm | undefined,
): Partition {
  const parent = Int32Array.from({ length: rowCount }, (_, row) => row)
  for (const { row, other } of links) join(parent, row, other)
  if (term) joinByLevel(parent, term)
  // The smallest row of a block is its root, so that blocks are met in the order of their first row.
  const block = new Int32Array(rowCount)
  let count = 0
  for (let row = 0; row < rowCount; row++) {
    const root = rootOf(parent, row)
    block[row] = root === row ? count++ : block[root]!
  }
  const from = new Int32Array(count + 1)
  for (let row = 0; row < rowCount; row++) from[block[row]! + 1]!++
  for (let b = 0; b < count; b++) from[b + 1]! += from[b]!
  const next = from.slice()
  const rows = new Int32Array(rowCount)
  for (let row = 0; row < rowCount; row++) rows[next[block[row]!]!++] = row
  return { rows, from, withinBlock: terms.map((other) => staysWithin(block, other)) }
}

function joinByLevel(parent: Int32Array, { levelCount, from, levels }: FlatTerm): void {
  const first = new Int32Array(levelCount).fill(-1)
  for (let row = 0; row + 1 < from.length; row++) {
    for (let at = from[row]!; at < from[row + 1]!; at++) {
      const level = levels[at]!
      if (first[level]! < 0) first[level] = row
      else join(parent, first[level]!, row)
    }
  }
}

function staysWithin(block: Int32Array, { levelCount, from, levels }: FlatTerm): boolean {
  const own = new Int32Array(levelCount).fill(-1)
  for (let row = 0; row + 1 < from.length; row++) {
    for (let at = from[row]!; at < from[row + 1]!; at++) {
      const level = levels[at]!
      if (own[level]! < 0) own[level] = block[row]!
      else if (own[level] !== block[row]) return false
    }
  }
  return true
}

function rootOf(parent: Int32Array, row: number): number {
  let root = row
  while (parent[root]! !== root) {
    parent[root] = parent[parent[root]!]!
    root = parent[root]!
  }
  return root
}

function join(parent: Int32Array, a: number, b: number): void {
  const one = rootOf(parent, a)
  const two = rootOf(parent, b)
  // The smaller row leads, so that the answer does not depend on the order in which the links come.
  if (one < two) parent[two] = one
  else parent[one] = two
}

/**
 * Multiplications of one evaluation, roughly: n³ a block of n rows for its factor and inverse, m² a row for what the fitted effects
 * take of it, m the columns that the block meets, and the cube of the small system for the same.
 */
function work(fixedCount: number, terms: readonly FlatTerm[], partition: Partition): number {
  const { rows, from } = partition
  const across = terms.filter((_, t) => !partition.withinBlock[t])
  const small = across.reduce((sum, { levelCount }) => sum + levelCount, fixedCount)
  const met = across.map(({ levelCount }) => new Int32Array(levelCount).fill(-1))
  let total = small ** 3
  for (let b = 0; b + 1 < from.length; b++) {
    let columns = fixedCount
    for (let at = from[b]!; at < from[b + 1]!; at++)
      across.forEach((term, t) => {
        columns += markLevels(term, rows[at]!, b, met[t]!)
      })
    const length = from[b + 1]! - from[b]!
    total += length ** 3 + length * length * columns + length * columns * columns
  }
  return total
}

/** Marks the levels of a row as met in a block, and counts those that were not before. */
function markLevels({ from, levels }: FlatTerm, row: number, block: number, met: Int32Array): number {
  let count = 0
  for (let at = from[row]!; at < from[row + 1]!; at++) {
    if (met[levels[at]!] === block) continue
    met[levels[at]!] = block
    count++
  }
  return count
}
