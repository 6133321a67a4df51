import { OutOfRange } from '../errors.js'

/** The design of a pair of one-sided cumulative sums of standardised values. */
export interface CumulativeSumDesign {
  /** Allowance k: half the shift, in standard deviations, that is to be found fastest [–]. */
  readonly allowance: number
  /** Decision limit h: the sum signals above it [–]. */
  readonly limit: number
}

/** One side of a chart, over the values in order. */
export interface CumulativeSum {
  readonly path: readonly number[]
  /** Position of the first value at which the sum exceeds the limit; `null` without one. */
  readonly signalAt: number | null
  /** How many values came before the change: those up to the last zero of the sum before its signal. `null` without one. */
  readonly changeAfter: number | null
}

/**
 * One-sided cumulative sums of standardised values, upwards and downwards:
 *
 *     S⁺ = max(0, S⁺ + z − k),   S⁻ = max(0, S⁻ − z − k),   both from 0; a signal where a sum exceeds h
 *
 * A sum goes on after its signal. The change is dated by Page's rule: after the last value at which the sum was 0.
 *
 * @param values z, standard normal while nothing has changed
 * @throws OutOfRange for a value that is not finite, an allowance below 0 or a limit not above 0
 *
 * Source: Page, Biometrika 41 (1954) 100–115.
 *
 * @example cumulativeSums([0, 2, 3], { allowance: 0.5, limit: 3 }).up // path 0, 1.5, 4; signalAt 2; changeAfter 1
 */
export function cumulativeSums(
  values: readonly number[],
  design: CumulativeSumDesign,
): { readonly up: CumulativeSum; readonly down: CumulativeSum } {
  checkDesign(design)
  const wrong = values.find((value) => !Number.isFinite(value))
  if (wrong !== undefined) throw new OutOfRange('standardised value', wrong, 'finite')
  return {
    up: oneSided(values, design),
    down: oneSided(
      values.map((value) => -value),
      design,
    ),
  }
}

/** @throws OutOfRange for an allowance below 0 or a limit not above 0 */
export function checkDesign({ allowance, limit }: CumulativeSumDesign): void {
  if (!(allowance >= 0 && Number.isFinite(allowance))) throw new OutOfRange('allowance', allowance, 'at least 0')
  if (!(limit > 0 && Number.isFinite(limit))) throw new OutOfRange('decision limit', limit, 'above 0')
}

function oneSided(values: readonly number[], { allowance, limit }: CumulativeSumDesign): CumulativeSum {
  const path: number[] = []
  let signalAt: number | null = null
  let changeAfter: number | null = null
  let lastZero = 0
  let sum = 0
  values.forEach((value, at) => {
    sum = Math.max(0, sum + value - allowance)
    path.push(sum)
    if (signalAt !== null) return
    if (sum === 0) lastZero = at + 1
    if (sum > limit) {
      signalAt = at
      changeAfter = lastZero
    }
  })
  return { path, signalAt, changeAfter }
}
