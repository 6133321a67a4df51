import type { WeighingMethod } from '../../contract/vocabulary.js'

/**
 * Resolution assumed of a scale that nobody named [g]: hanging dock scales up to some tens of kilograms are divided
 * into 5 or 10 g. Status: common practice.
 */
export const ASSUMED_RESOLUTION_G = 10

/**
 * Growth, salts and soft corrosion product left on an anode that was not brushed to bare metal, as a standard deviation
 * in shares of its gross mass. Status: common practice ("a few percent"); brushing first is the reason for row
 * `clean-before-weighing` of the reference tables.
 */
export const RESIDUE_SHARE_OF_GROSS = 0.03

/** Error of a mass worked out from calipers, in shares of the net mass: worn faces are not flat. Status: common practice. */
export const DIMENSIONS_SHARE_OF_NET = 0.08

/** Error of a judgement by eye, in shares of the net mass when new: ±10 points of the consumed fraction. Status: common practice. */
export const VISUAL_SHARE_OF_NEW_NET = 0.1

/** What an anode was like when it was fitted; null where nobody wrote it down. */
export interface AnodeWhenFitted {
  readonly fittedOn: string | null
  readonly removedOn: string | null
  readonly grossMassG: number | null
  readonly coreMassG: number | null
  readonly lengthMm: number | null
  readonly widthMm: number | null
  readonly heightMm: number | null
}

/** What was found at one weighing; null where it was not measured. */
export interface Measured {
  readonly weighedOn: string
  readonly method: WeighingMethod
  readonly massG: number | null
  readonly resolutionG: number | null
  readonly cleaned: boolean | null
  readonly submergedMassG: number | null
  readonly wastedPercent: number | null
  readonly lengthMm: number | null
  readonly widthMm: number | null
  readonly heightMm: number | null
}

/** A gross mass with what its error depends on. */
export interface MassFound {
  readonly method: WeighingMethod
  readonly massG: number
  readonly resolutionG: number | null
  readonly cleaned: boolean | null
}

/** The same with its day. */
export interface KnownMass extends MassFound {
  readonly on: string
}

export const DIMENSIONS = ['lengthMm', 'widthMm', 'heightMm'] as const
export type Dimension = (typeof DIMENSIONS)[number]

/**
 * Share of the new volume that the dimensions left still enclose: the product of left / new over those measured. A
 * dimension without its counterpart counts as unchanged.
 *
 * @returns share [–], above 1 when it measures larger than new; null when nothing can be compared
 */
export function volumeShareLeft(measured: Measured, anode: AnodeWhenFitted): number | null {
  const ratios = DIMENSIONS.flatMap((dimension) => {
    const left = measured[dimension]
    const whenNew = anode[dimension]
    return left === null || whenNew === null ? [] : [left / whenNew]
  })
  return ratios.length === 0 ? null : ratios.reduce((product, ratio) => product * ratio, 1)
}

/**
 * The gross mass that a weighing stands for: as the scale shows it, or core + net mass when new × the share left.
 *
 * @returns gross mass [g]; null when neither a mass nor the anode's own masses are known
 */
export function grossMassOf(measured: Measured, anode: AnodeWhenFitted): number | null {
  if (measured.massG !== null) return measured.massG
  if (anode.grossMassG === null) return null
  const coreG = anode.coreMassG ?? 0
  const share = measured.wastedPercent === null ? volumeShareLeft(measured, anode) : 1 - measured.wastedPercent / 100
  return share === null ? null : coreG + (anode.grossMassG - coreG) * share
}

/** The mass when new as the first of an anode's life: weighed bare. */
export function fittingMassOf(anode: AnodeWhenFitted): MassFound | null {
  if (anode.grossMassG === null) return null
  return { method: 'scale', massG: anode.grossMassG, resolutionG: null, cleaned: true }
}

/** A weighing as a known mass; null when it says nothing about the mass. */
export function knownMassOf(measured: Measured, anode: AnodeWhenFitted): KnownMass | null {
  const massG = grossMassOf(measured, anode)
  if (massG === null) return null
  return {
    on: measured.weighedOn,
    method: measured.method,
    massG,
    resolutionG: measured.resolutionG,
    cleaned: measured.cleaned,
  }
}

/**
 * Standard deviation of one weighing's error.
 *
 *     scale:      σ² = r²/12 + r² + (0.03·gross)²      the last term unless cleaned to bare metal
 *     dimensions: σ = 0.08·net
 *     visual:     σ = 0.10·net when new
 *
 * r²/12 is the rounding to the scale's step (JCGM 100:2008, F.2.2.1), r² its repeatability of one step.
 *
 * @param known the weighing; masses and resolution in g
 * @param anode its core mass, and its gross mass when new, in g
 * @returns standard deviation [g]
 */
export function weighingSd(known: MassFound, anode: Pick<AnodeWhenFitted, 'grossMassG' | 'coreMassG'>): number {
  const coreG = anode.coreMassG ?? 0
  if (known.method === 'dimensions') return DIMENSIONS_SHARE_OF_NET * Math.max(known.massG - coreG, 0)
  if (known.method === 'visual') return VISUAL_SHARE_OF_NEW_NET * Math.max((anode.grossMassG ?? known.massG) - coreG, 0)
  const stepG = known.resolutionG ?? ASSUMED_RESOLUTION_G
  const residueG = known.cleaned === true ? 0 : RESIDUE_SHARE_OF_GROSS * known.massG
  return Math.hypot(stepG / Math.sqrt(12), stepG, residueG)
}
