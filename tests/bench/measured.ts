/** What one fit took, of this project or of the anchor, and what it found. */
export interface Measured {
  readonly fit: Seconds
  /** Fit and standard deviations of the effects of every level. */
  readonly withDeviations: Seconds
  readonly peakMiB: number
  /** Boat, berth, residual (and anode). */
  readonly variances: Readonly<Record<string, number>>
  readonly fixed: readonly number[]
  /** Mean conditional standard deviation over the levels of a term. */
  readonly meanDeviation: Readonly<Record<string, number>>
}

/** Elapsed, and of the processor. */
export interface Seconds {
  readonly wall: number
  readonly cpu: number
}

export const BENCH_MODELS = ['anchor', 'weighed'] as const
export type BenchModel = (typeof BENCH_MODELS)[number]
