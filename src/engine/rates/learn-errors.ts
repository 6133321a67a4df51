import { WEIGHING_ERROR, type WeighingErrors } from '../depletion/weighing-error.js'
import type { WeighingPair } from './weighing-pairs.js'

/** A bias and a spread before and after pairs were seen, in shares of a mass. */
interface Error {
  readonly bias: number
  readonly sd: number
}

/** How far a default may be off: the bias by this standard deviation, the spread as if it rested on so many pairs. Assumed. */
const BIAS_SD = { residue: 0.02, dimensions: 0.04, visual: 0.05 } as const
const PRIOR_PAIRS = 10
/** A pair further off than this many standard deviations is a slip of the keyboard and teaches nothing. */
const SLIP_SDS = 4
const ROUNDS = 8

/**
 * The errors of the ways of weighing, learned from pairs: a judgement by eye, by calipers or on an uncleaned anode against
 * what cleaned scale weighings before and after it lead one to expect on that day. Few pairs leave the defaults nearly as
 * they are.
 */
export function learnErrors(pairs: readonly WeighingPair[]): WeighingErrors {
  const of = (kind: WeighingPair['kind']) => pairs.filter((pair) => pair.kind === kind)
  const { residueMeanShare, residueSdShare, dimensionsBiasShare, dimensionsSdShare } = WEIGHING_ERROR
  const residue = learn(of('residue'), { bias: residueMeanShare, sd: residueSdShare }, BIAS_SD.residue)
  const dimensions = learn(of('dimensions'), { bias: dimensionsBiasShare, sd: dimensionsSdShare }, BIAS_SD.dimensions)
  const visual = learn(
    of('visual'),
    { bias: WEIGHING_ERROR.visualBiasPoints, sd: WEIGHING_ERROR.visualSdPoints },
    BIAS_SD.visual,
  )
  // Growth and product only ever add.
  const residueMean = Math.max(0, residue.bias)
  return {
    ...WEIGHING_ERROR,
    residueMeanShare: residueMean,
    residueSdShare: residue.sd,
    unknownCleaningMeanShare: residueMean / 2,
    unknownCleaningSdShare: Math.hypot(residue.sd, residueMean / 2),
    dimensionsBiasShare: dimensions.bias,
    dimensionsSdShare: dimensions.sd,
    visualBiasPoints: visual.bias,
    visualSdPoints: visual.sd,
  }
}

/**
 * Posterior mode of bias and spread in turn, under a normal prior of the bias and a spread that counts as `PRIOR_PAIRS`
 * pairs; each pair's own uncertainty is taken off its square.
 */
function learn(pairs: readonly WeighingPair[], prior: Error, biasSd: number): Error {
  let { bias, sd } = prior
  for (let round = 0; round < ROUNDS; round++) {
    const sound = pairs.filter(({ error, errorSd }) => Math.abs(error - bias) <= SLIP_SDS * Math.hypot(sd, errorSd))
    const weights = sound.map(({ errorSd }) => 1 / (sd ** 2 + errorSd ** 2))
    const total = weights.reduce((sum, weight) => sum + weight, 1 / biasSd ** 2)
    bias = sound.reduce((sum, { error }, i) => sum + weights[i]! * error, prior.bias / biasSd ** 2) / total
    const squares = sound.reduce((sum, { error, errorSd }) => sum + Math.max(0, (error - bias) ** 2 - errorSd ** 2), 0)
    sd = Math.sqrt((PRIOR_PAIRS * prior.sd ** 2 + squares) / (PRIOR_PAIRS + sound.length))
  }
  return { bias, sd }
}
