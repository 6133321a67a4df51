/** Memory at one moment of a load. */
export interface Sample {
  readonly minutes: number
  readonly mib: number
}

/** Mean and highest of the samples within a share of the time [MiB]. */
export function within(samples: readonly Sample[], from: number, to: number): { mean: number; highest: number } {
  const of = samples.slice(Math.floor(from * samples.length), Math.ceil(to * samples.length)).map(({ mib }) => mib)
  return { mean: of.reduce((sum, each) => sum + each, 0) / of.length, highest: Math.max(...of) }
}

/**
 * Slope by least squares, with its standard error [MiB a minute]. Samples that follow each other are alike, so the error is that of
 * independent ones times what a first-order autoregression of the residuals, r, adds: sqrt((1 + r) / (1 - r)).
 */
export function slopeOf(samples: readonly Sample[]): { slope: number; error: number } {
  const n = samples.length
  const mean = (of: (sample: Sample) => number) => samples.reduce((sum, each) => sum + of(each), 0) / n
  const [meanX, meanY] = [mean(({ minutes }) => minutes), mean(({ mib }) => mib)]
  const sxx = samples.reduce((sum, { minutes }) => sum + (minutes - meanX) ** 2, 0)
  const slope = samples.reduce((sum, { minutes, mib }) => sum + (minutes - meanX) * (mib - meanY), 0) / sxx
  const residuals = samples.map(({ minutes, mib }) => mib - meanY - slope * (minutes - meanX))
  const squares = residuals.reduce((sum, each) => sum + each ** 2, 0)
  const pairs = residuals.slice(1).reduce((sum, each, index) => sum + each * residuals[index]!, 0)
  const likeness = Math.max(0, Math.min(0.99, pairs / squares))
  const independent = Math.sqrt(squares / (n - 2) / sxx)
  return { slope, error: independent * Math.sqrt((1 + likeness) / (1 - likeness)) }
}
