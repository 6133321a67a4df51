import type { WeighingMethod } from '../../contract/vocabulary.js'
import { netMassEstimate } from '../../engine/depletion/mass-observation.js'
import { remainingShare } from '../../engine/depletion/shapes.js'
import { WEIGHING_ERROR } from '../../engine/depletion/weighing-error.js'

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
 * The gross mass that a weighing stands for: as the scale shows it, or core + net mass when new × the share left.
 *
 * @returns gross mass [g]; null when neither a mass nor the anode's own masses are known
 */
export function grossMassOf(measured: Measured, anode: AnodeWhenFitted): number | null {
  if (measured.massG !== null) return measured.massG
  if (anode.grossMassG === null) return null
  const coreG = anode.coreMassG ?? 0
  const share = measured.wastedPercent === null ? remainingShare(measured, anode) : 1 - measured.wastedPercent / 100
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
 * Standard deviation of one weighing's error, by the engine's account of it (`WEIGHING_ERROR`). Residue that the engine
 * takes off an uncleaned anode's mass may not have been there: here it counts as error.
 *
 * @param known the weighing; masses and resolution in g
 * @param anode its core mass, and its gross mass when new, in g
 * @returns standard deviation [g]
 */
export function weighingSd(known: MassFound, anode: Pick<AnodeWhenFitted, 'grossMassG' | 'coreMassG'>): number {
  const coreMassG = anode.coreMassG ?? 0
  const newNetG = Math.max((anode.grossMassG ?? known.massG) - coreMassG, 0)
  if (known.method === 'dimensions') return WEIGHING_ERROR.dimensionsSdShare * newNetG
  if (known.method === 'visual') return WEIGHING_ERROR.visualSdPoints * newNetG
  const { massG: grossMassG, resolutionG, cleaned } = known
  const fitted = {
    netMassG: newNetG,
    coreMassG,
    coreSdG: 0,
    newSdG: 0,
    alloy: null,
    shape: null,
    dimensions: NO_DIMENSIONS,
  }
  const estimate = netMassEstimate(fitted, { method: 'scale', grossMassG, resolutionG, cleaned })
  if (estimate === null) throw new Error('a scale always gives an estimate')
  return Math.hypot(estimate.sdG, grossMassG - coreMassG - estimate.netMassG)
}

const NO_DIMENSIONS = { lengthMm: null, widthMm: null, heightMm: null }
