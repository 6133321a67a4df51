import { OutOfRange } from '../errors.js'

/** How p-values of one batch are adjusted for being many. */
export type Adjustment = 'benjamini-hochberg' | 'benjamini-yekutieli' | 'holm' | 'hochberg' | 'bonferroni'

/** By rank of the p-value among `count`, 1 for the smallest: the factor, and which way the running extreme goes. */
interface Rule {
  readonly factor: (rank: number, count: number) => number
  readonly direction: 'step-up' | 'step-down'
}

const RULES: Readonly<Record<Adjustment, Rule>> = {
  'benjamini-hochberg': { factor: (rank, count) => count / rank, direction: 'step-up' },
  'benjamini-yekutieli': { factor: (rank, count) => (harmonic(count) * count) / rank, direction: 'step-up' },
  holm: { factor: (rank, count) => count - rank + 1, direction: 'step-down' },
  hochberg: { factor: (rank, count) => count - rank + 1, direction: 'step-up' },
  bonferroni: { factor: (_, count) => count, direction: 'step-down' },
}

/**
 * Adjusted p-values: those not above α are rejected when the false discovery rate (Benjamini–Hochberg; under any dependence
 * Benjamini–Yekutieli) or the family-wise error rate (the others) is to be α. With p sorted upwards and c_i the rule's factor,
 *
 *     step-up: min over j ≥ i of c_j·p_j,   step-down: max over j ≤ i of c_j·p_j,   at most 1
 *
 * @param pValues of one batch, each in [0, 1]
 * @returns in the order given
 * @throws OutOfRange for a p-value outside [0, 1]
 *
 * Source: Benjamini and Hochberg, J. R. Stat. Soc. B 57 (1995) 289–300; Benjamini and Yekutieli, Ann. Stat. 29 (2001) 1165–1188;
 * Holm, Scand. J. Stat. 6 (1979) 65–70; Hochberg, Biometrika 75 (1988) 800–802.
 *
 * @example adjustPValues([0.01, 0.04, 0.03], 'benjamini-hochberg') // [0.03, 0.04, 0.04]
 */
export function adjustPValues(pValues: readonly number[], adjustment: Adjustment): number[] {
  const wrong = pValues.find((p) => !(p >= 0 && p <= 1))
  if (wrong !== undefined) throw new OutOfRange('p-value', wrong, 'from 0 to 1')
  const { factor, direction } = RULES[adjustment]
  const count = pValues.length
  const order = pValues.map((_, index) => index).sort((a, b) => pValues[a]! - pValues[b]!)
  const adjusted = order.map((index, place) => Math.min(1, factor(place + 1, count) * pValues[index]!))
  if (direction === 'step-up')
    for (let i = count - 2; i >= 0; i--) adjusted[i] = Math.min(adjusted[i]!, adjusted[i + 1]!)
  else for (let i = 1; i < count; i++) adjusted[i] = Math.max(adjusted[i]!, adjusted[i - 1]!)
  const result = new Array<number>(count)
  order.forEach((index, place) => {
    result[index] = adjusted[place]!
  })
  return result
}

function harmonic(count: number): number {
  let sum = 0
  for (let i = 1; i <= count; i++) sum += 1 / i
  return sum
}
