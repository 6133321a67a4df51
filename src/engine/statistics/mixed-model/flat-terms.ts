import type { RandomTerm } from './types.js'

/** Memberships of a term in plain arrays: row r has the entries from[r] … from[r + 1] − 1. */
export interface FlatTerm {
  readonly levelCount: number
  readonly from: Int32Array
  readonly levels: Int32Array
  readonly weights: Float64Array
}

/** Lays the memberships of a checked term out in plain arrays, so that no pass over the rows meets an object. */
export function flattenTerm(term: RandomTerm): FlatTerm {
  const rows = term.membership.length
  const from = new Int32Array(rows + 1)
  for (let row = 0; row < rows; row++) from[row + 1] = from[row]! + term.membership[row]!.length
  const levels = new Int32Array(from[rows]!)
  const weights = new Float64Array(from[rows]!)
  let at = 0
  for (const members of term.membership) {
    for (const { level, weight } of members) {
      levels[at] = level
      weights[at++] = weight
    }
  }
  return { levelCount: term.levels.length, from, levels, weights }
}
