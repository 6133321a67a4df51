import { designAlloy } from '../reference/anode-alloys.js'
import type { AnodeAlloy } from '../reference/vocabulary.js'
import { type Dimensions, remainingShare, shapeVolume } from './shapes.js'
import { WEIGHING_ERROR, type WeighingErrors } from './weighing-error.js'

/** The anode as it was fitted, as far as known. */
export interface FittedAnode {
  readonly netMassG: number
  readonly coreMassG: number
  /** Standard deviation of the core mass: 0 where it was weighed [g]. */
  readonly coreSdG: number
  /** Standard deviation of the net mass when new, its core apart: 0 where it was weighed [g]. */
  readonly newSdG: number
  readonly alloy: AnodeAlloy | null
  readonly shape: string | null
  readonly dimensions: Dimensions
}

/** One dated judgement of an anode's mass, by scale, by calipers or by eye. */
export type MassJudgement =
  | {
      readonly method: 'scale'
      readonly grossMassG: number
      readonly resolutionG: number | null
      readonly cleaned: boolean | null
    }
  | { readonly method: 'dimensions'; readonly dimensions: Dimensions }
  | { readonly method: 'visual'; readonly consumedFraction: number }

/** Net mass with the standard deviation of its error; a scale's residue is already taken off. */
export interface NetMassEstimate {
  readonly netMassG: number
  readonly sdG: number
}

/**
 * What a judgement says of the net mass.
 *
 *     scale:       m = gross − core − residue;      σ² = r²/12 + (repeatability·gross)² + (residue spread·net)²
 *     dimensions:  m = m₀·Π dᵢ/dᵢ₀, or V·ρ − core, less its bias;  σ = 6 % of m₀
 *     visual:      m = m₀·(1 − consumed), less its bias;           σ = 10 points of m₀
 *
 * The estimate may be slightly negative where a scale reads below the core: never clipped, the error has two sides.
 *
 * @returns net mass and its standard deviation [g]; `null` where dimensions say nothing (none known when fitted)
 * @see WEIGHING_ERROR for every share and its source
 * @example netMassEstimate(anode, { method: 'visual', consumedFraction: 0.25 }) // 1000 g net when new: { netMassG: 750, sdG: 100 }
 */
export function netMassEstimate(
  anode: FittedAnode,
  judgement: MassJudgement,
  errors: WeighingErrors = WEIGHING_ERROR,
): NetMassEstimate | null {
  switch (judgement.method) {
    case 'scale':
      return fromScale(anode, judgement, errors)
    case 'dimensions':
      return fromDimensions(anode, judgement.dimensions, errors)
    case 'visual':
      return {
        netMassG: anode.netMassG * (1 - judgement.consumedFraction - errors.visualBiasPoints),
        sdG: errors.visualSdPoints * anode.netMassG,
      }
  }
}

function fromScale(
  anode: FittedAnode,
  judgement: Extract<MassJudgement, { method: 'scale' }>,
  errors: WeighingErrors,
): NetMassEstimate {
  const read = judgement.grossMassG - anode.coreMassG
  const [residueMean, residueSd] = residueShares(judgement.cleaned, errors)
  const resolutionG = judgement.resolutionG ?? errors.unknownResolutionG
  const sdG = Math.hypot(
    resolutionG * Math.sqrt(errors.resolutionVarianceShare),
    errors.repeatabilityShare * judgement.grossMassG,
    residueSd * Math.max(read, 0),
  )
  return { netMassG: read - residueMean * Math.max(read, 0), sdG }
}

function residueShares(cleaned: boolean | null, errors: WeighingErrors): readonly [mean: number, sd: number] {
  if (cleaned === true) return [0, 0]
  if (cleaned === false) return [errors.residueMeanShare, errors.residueSdShare]
  return [errors.unknownCleaningMeanShare, errors.unknownCleaningSdShare]
}

function fromDimensions(anode: FittedAnode, left: Dimensions, errors: WeighingErrors): NetMassEstimate | null {
  const sdG = errors.dimensionsSdShare * anode.netMassG
  const bias = errors.dimensionsBiasShare * anode.netMassG
  const share = remainingShare(left, anode.dimensions)
  if (share !== null) return { netMassG: anode.netMassG * share - bias, sdG }
  const complete = left.lengthMm !== null && left.widthMm !== null && left.heightMm !== null
  if (!complete || anode.alloy === null) return null
  const byVolume = shapeVolume(anode.shape, left) * designAlloy(anode.alloy).densityGPerCm3
  return { netMassG: byVolume - anode.coreMassG - bias, sdG }
}
