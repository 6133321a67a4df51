import { designAlloy } from '../reference/anode-alloys.js'
import type { AnodeAlloy } from '../reference/vocabulary.js'
import { type Dimensions, remainingShare, shapeVolume } from './shapes.js'
import { WEIGHING_ERROR } from './weighing-error.js'

/** The anode as it was fitted, as far as known. */
export interface FittedAnode {
  readonly netMassG: number
  readonly coreMassG: number
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
 *     dimensions:  m = m₀·Π dᵢ/dᵢ₀, or V·ρ − core;  σ = 6 % of m₀
 *     visual:      m = m₀·(1 − consumed);           σ = 10 points of m₀
 *
 * The estimate may be slightly negative where a scale reads below the core: never clipped, the error has two sides.
 *
 * @returns net mass and its standard deviation [g]; `null` where dimensions say nothing (none known when fitted)
 * @see WEIGHING_ERROR for every share and its source
 * @example netMassEstimate(anode, { method: 'visual', consumedFraction: 0.25 }) // 1000 g net when new: { netMassG: 750, sdG: 100 }
 */
export function netMassEstimate(anode: FittedAnode, judgement: MassJudgement): NetMassEstimate | null {
  switch (judgement.method) {
    case 'scale':
      return fromScale(anode, judgement)
    case 'dimensions':
      return fromDimensions(anode, judgement.dimensions)
    case 'visual':
      return {
        netMassG: anode.netMassG * (1 - judgement.consumedFraction),
        sdG: WEIGHING_ERROR.visualSdPoints * anode.netMassG,
      }
  }
}

function fromScale(anode: FittedAnode, judgement: Extract<MassJudgement, { method: 'scale' }>): NetMassEstimate {
  const read = judgement.grossMassG - anode.coreMassG
  const [residueMean, residueSd] = residueShares(judgement.cleaned)
  const resolutionG = judgement.resolutionG ?? WEIGHING_ERROR.unknownResolutionG
  const sdG = Math.hypot(
    resolutionG * Math.sqrt(WEIGHING_ERROR.resolutionVarianceShare),
    WEIGHING_ERROR.repeatabilityShare * judgement.grossMassG,
    residueSd * Math.max(read, 0),
  )
  return { netMassG: read - residueMean * Math.max(read, 0), sdG }
}

function residueShares(cleaned: boolean | null): readonly [mean: number, sd: number] {
  if (cleaned === true) return [0, 0]
  if (cleaned === false) return [WEIGHING_ERROR.residueMeanShare, WEIGHING_ERROR.residueSdShare]
  return [WEIGHING_ERROR.unknownCleaningMeanShare, WEIGHING_ERROR.unknownCleaningSdShare]
}

function fromDimensions(anode: FittedAnode, left: Dimensions): NetMassEstimate | null {
  const sdG = WEIGHING_ERROR.dimensionsSdShare * anode.netMassG
  const share = remainingShare(left, anode.dimensions)
  if (share !== null) return { netMassG: anode.netMassG * share, sdG }
  const complete = left.lengthMm !== null && left.widthMm !== null && left.heightMm !== null
  if (!complete || anode.alloy === null) return null
  return { netMassG: shapeVolume(anode.shape, left) * designAlloy(anode.alloy).densityGPerCm3 - anode.coreMassG, sdG }
}
