import { OutOfRange } from '../../errors.js'

/** A draw without putting back. */
export interface WithoutReplacement {
  /** All there are, N ≥ 0, and how many of them are marked, 0 ≤ K ≤ N. */
  readonly population: number
  readonly marked: number
  /** How many are drawn, 0 ≤ n ≤ N. */
  readonly drawn: number
}

/**
 * Probability that at least so many of those drawn are marked:
 *
 *     P(X ≥ k) = Σ_{i ≥ k} C(K, i)·C(N − K, n − i) / C(N, n)
 *
 * @param least k, a whole number
 * @throws OutOfRange for counts that are not whole numbers within each other
 * @example hypergeometricTail({ population: 8, marked: 4, drawn: 4 }, 4) // 1/70
 */
export function hypergeometricTail({ population, marked, drawn }: WithoutReplacement, least: number): number {
  for (const [name, count] of Object.entries({ marked, drawn }))
    if (!(Number.isInteger(count) && count >= 0 && count <= population))
      throw new OutOfRange(name, count, `a whole number from 0 to ${population}`)
  let tail = 0
  for (let i = Math.max(least, 0, drawn + marked - population); i <= Math.min(marked, drawn); i++)
    tail += Math.exp(logChoose(marked, i) + logChoose(population - marked, drawn - i) - logChoose(population, drawn))
  return Math.min(1, tail)
}

function logChoose(of: number, some: number): number {
  let log = 0
  for (let i = 1; i <= some; i++) log += Math.log((of - some + i) / i)
  return log
}
