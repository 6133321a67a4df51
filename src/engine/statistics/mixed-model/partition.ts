import type { MixedModelData, RandomTerm } from './types.js'

/** Rows in blocks, and the terms whose effects each lie within one block. */
export interface Partition {
  /** Rows of each block, ascending; blocks in the order of their first row. */
  readonly blocks: readonly (readonly number[])[]
  /** Per term of the data: is every level of it met in one block only? */
  readonly withinBlock: readonly boolean[]
}

/**
 * Chooses what to eliminate: rows that share a level of the chosen term (or a known error covariance) form a block;
 * terms that stay within the blocks are eliminated with them, the others make up the small system. Every term is
 * tried, and no term at all; the one with the least work wins.
 */
export function choosePartition(data: MixedModelData): Partition {
  const candidates = [undefined, ...data.random].map((term) => partitionBy(data, term))
  return candidates.reduce((best, next) => (work(data, next) < work(data, best) ? next : best))
}

function partitionBy(data: MixedModelData, term: RandomTerm | undefined): Partition {
  const rows = data.y.length
  const parent = Int32Array.from({ length: rows }, (_, row) => row)
  for (const { row, other } of data.errorCovariance ?? []) join(parent, row, other)
  if (term) joinByLevel(parent, term)
  const byRoot = new Map<number, number[]>()
  for (let row = 0; row < rows; row++) {
    const root = rootOf(parent, row)
    const block = byRoot.get(root)
    if (block) block.push(row)
    else byRoot.set(root, [row])
  }
  return { blocks: [...byRoot.values()], withinBlock: data.random.map((other) => staysWithin(parent, other)) }
}

function joinByLevel(parent: Int32Array, term: RandomTerm): void {
  const first = new Int32Array(term.levels.length).fill(-1)
  term.membership.forEach((members, row) => {
    for (const { level } of members) {
      if (first[level]! < 0) first[level] = row
      else join(parent, first[level]!, row)
    }
  })
}

function staysWithin(parent: Int32Array, term: RandomTerm): boolean {
  const root = new Int32Array(term.levels.length).fill(-1)
  return term.membership.every((members, row) => {
    const own = rootOf(parent, row)
    return members.every(({ level }) => {
      if (root[level]! < 0) root[level] = own
      return root[level] === own
    })
  })
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

/** Multiplications of one evaluation, roughly: a few times n³ and n²·m a block, and some products of the small system. */
function work(data: MixedModelData, { blocks, withinBlock }: Partition): number {
  const fixed = data.fixed.length
  let small = fixed
  data.random.forEach((term, t) => {
    if (!withinBlock[t]) small += term.levels.length
  })
  const products = 8
  let total = products * small ** 3
  for (const { length } of blocks) {
    const columns = Math.min(small, fixed + length)
    total += 2 * length ** 3 + 2 * length * length * columns + products * length * columns * columns
  }
  return total
}
