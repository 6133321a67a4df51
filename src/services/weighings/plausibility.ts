import { CONFIRMABLE_DOUBTS, type ConfirmableDoubt } from '../../contract/weighings.js'
import { remainingShare } from '../../engine/depletion/shapes.js'
import { inFutureDetail, isInFuture } from '../dates/not-in-future.js'
import {
  type AnodeWhenFitted,
  DIMENSIONS,
  fittingMassOf,
  type KnownMass,
  type MassFound,
  type Measured,
  weighingSd,
} from './weighing-errors.js'

export type DoubtCode =
  | ConfirmableDoubt
  | 'missing'
  | 'in-future'
  | 'before-fitting'
  | 'after-removal'
  | 'below-core'
  | 'submerged-not-below-dry'

/** Why a weighing is not accepted as it stands. */
export interface Doubt {
  readonly field: keyof Measured
  readonly code: DoubtCode
  /** What was found and what to do, in a plain sentence. */
  readonly detail: string
}

export interface WeighingToJudge {
  readonly anode: AnodeWhenFitted
  /** The last mass known before; null: the fitting mass counts, if known. */
  readonly previous: KnownMass | null
  /** The first mass known after, where the weighing is logged late. */
  readonly next: KnownMass | null
  readonly weighing: Measured
  /** The server's day in UTC. */
  readonly today: string
  readonly confirmed?: ReadonlySet<string>
}

/** Standard deviations of the two weighings' errors combined, within which a gain is error. Status: common practice. */
const ERROR_MULTIPLE = 4
/** A gain further allowed, in shares of the previous net mass: fasteners weighed along once and not again. Status: common practice. */
const ALLOWED_GAIN_SHARE = 0.02
/** How much larger or heavier than new an estimate by calipers or eye may come out. Status: common practice. */
const ESTIMATE_TOLERANCE = 1.25
/** How far above its mass when new an anode may be, to be the one meant when a unit was mistaken. Status: common practice. */
const UNIT_TOLERANCE = 1.05
const GRAMS_PER_KILOGRAM = 1000
/** A mass below this share of what is expected is suspected of being in kilograms. Status: common practice. */
const SUSPICIOUS_SHARE = 1 / 50

/**
 * What speaks against a weighing, given the anode's life and its masses before and after. Empty: it is accepted. Dates
 * outside the life, a mass below the core and missing figures are impossible and stay; the rest may be confirmed.
 *
 * @example judgeWeighing({ anode, previous, next: null, weighing: { ...weighing, massG: 1.2 }, today: '2031-04-18' })
 * // [{ field: 'massG', code: 'looks-like-kilograms', detail: '1.2 g is … did you mean 1.2 kg (1200 g)?' }]
 */
export function judgeWeighing(asked: WeighingToJudge): Doubt[] {
  return [...missing(asked), ...outsideLife(asked), ...submerged(asked), ...implausibleMass(asked)]
}

export function isConfirmable(code: DoubtCode): code is ConfirmableDoubt {
  return (CONFIRMABLE_DOUBTS as readonly string[]).includes(code)
}

function missing({ anode, weighing }: WeighingToJudge): Doubt[] {
  if (weighing.method === 'scale' && weighing.massG === null) {
    return [{ field: 'massG', code: 'missing', detail: 'a weighing on a scale needs its mass' }]
  }
  if (weighing.method === 'visual' && weighing.wastedPercent === null) {
    return [{ field: 'wastedPercent', code: 'missing', detail: 'a judgement by eye needs the percent wasted' }]
  }
  if (weighing.method !== 'dimensions') return []
  const measured = DIMENSIONS.filter((dimension) => weighing[dimension] !== null)
  if (measured.length === 0) {
    const detail = 'a weighing by calipers needs at least one of length, width and height left'
    return [{ field: 'lengthMm', code: 'missing', detail }]
  }
  return measured
    .filter((dimension) => anode[dimension] === null)
    .map((dimension) => ({
      field: dimension,
      code: 'missing',
      detail: `the anode's ${NAMES[dimension]} when new is not known: add it to the anode first`,
    }))
}

const NAMES = { lengthMm: 'length', widthMm: 'width', heightMm: 'height' } as const

function outsideLife({ anode, weighing: { weighedOn }, today }: WeighingToJudge): Doubt[] {
  const doubts: Doubt[] = []
  const doubt = (code: DoubtCode, detail: string) => doubts.push({ field: 'weighedOn', code, detail })
  if (isInFuture(weighedOn, today)) doubt('in-future', inFutureDetail(weighedOn))
  if (anode.fittedOn !== null && weighedOn < anode.fittedOn) {
    doubt(
      'before-fitting',
      `weighed on ${weighedOn}, but the anode was fitted on ${anode.fittedOn}: correct one of them`,
    )
  }
  if (anode.removedOn !== null && weighedOn > anode.removedOn) {
    doubt(
      'after-removal',
      `weighed on ${weighedOn}, but the anode was removed on ${anode.removedOn}: was another meant?`,
    )
  }
  return doubts
}

function submerged({ weighing: { massG, submergedMassG } }: WeighingToJudge): Doubt[] {
  if (submergedMassG === null || (massG !== null && submergedMassG < massG)) return []
  const detail =
    massG === null
      ? 'a submerged mass needs the dry mass beside it'
      : `submerged it cannot be as heavy as dry: ${grams(submergedMassG)} against ${grams(massG)}`
  return [{ field: 'submergedMassG', code: 'submerged-not-below-dry', detail }]
}

/** The first doubt about the mass that is not confirmed: one mistake gives one sentence. */
function implausibleMass(asked: WeighingToJudge): Doubt[] {
  const checks = [mistakenUnit, belowCore, largerThanNew, heavierThanBefore, lighterThanLater]
  for (const check of checks) {
    const doubt = check(asked)
    if (doubt && !(isConfirmable(doubt.code) && asked.confirmed?.has(doubt.code))) return [doubt]
  }
  return []
}

function mistakenUnit({ anode, previous, weighing: { massG } }: WeighingToJudge): Doubt | null {
  const expectedG = anode.grossMassG ?? previous?.massG ?? null
  if (massG === null || expectedG === null) return null
  const coreG = anode.coreMassG ?? 0
  const isPlausible = (wantedG: number) => wantedG >= coreG && wantedG <= UNIT_TOLERANCE * expectedG
  const knownG = previous?.massG ?? expectedG
  const farTooLight = massG < expectedG * SUSPICIOUS_SHARE && (massG < coreG || massG < knownG * SUSPICIOUS_SHARE)
  if (farTooLight && isPlausible(massG * GRAMS_PER_KILOGRAM)) {
    const meant = `did you mean ${plain(massG)} kg (${grams(massG * GRAMS_PER_KILOGRAM)})?`
    const detail = `${grams(massG)} is far below the ${grams(knownG)} last known; ${meant}`
    return { field: 'massG', code: 'looks-like-kilograms', detail }
  }
  const farTooHeavy = massG * SUSPICIOUS_SHARE > expectedG
  if (farTooHeavy && isPlausible(massG / GRAMS_PER_KILOGRAM)) {
    const meant = `did you mean ${grams(massG / GRAMS_PER_KILOGRAM)} rather than kilograms?`
    const detail = `${grams(massG)} is far above the ${grams(expectedG)} expected; ${meant}`
    return { field: 'massG', code: 'looks-like-grams', detail }
  }
  return null
}

function belowCore({ anode: { coreMassG }, weighing: { massG, resolutionG } }: WeighingToJudge): Doubt | null {
  if (massG === null || coreMassG === null || massG + (resolutionG ?? 0) >= coreMassG) return null
  const detail = `${grams(massG)} is below the core mass of ${grams(coreMassG)}: weigh again, or correct the anode's core mass`
  return { field: 'massG', code: 'below-core', detail }
}

/** Estimates by calipers and by eye are too rough to be held against the mass before; they are held against new. */
function largerThanNew({ anode, weighing }: WeighingToJudge): Doubt | null {
  if (weighing.method === 'scale') return null
  if (weighing.massG !== null && anode.grossMassG !== null && weighing.massG > ESTIMATE_TOLERANCE * anode.grossMassG) {
    const detail = `${grams(weighing.massG)} is far above the ${grams(anode.grossMassG)} it had when new: was it replaced?`
    return { field: 'massG', code: 'larger-than-new', detail }
  }
  const share = weighing.method === 'dimensions' ? remainingShare(weighing, anode) : null
  if (share === null || share <= ESTIMATE_TOLERANCE) return null
  const ratio = (dimension: (typeof DIMENSIONS)[number]) => (weighing[dimension] ?? 0) / (anode[dimension] ?? Infinity)
  const field = [...DIMENSIONS].sort((a, b) => ratio(b) - ratio(a))[0] ?? 'lengthMm'
  const detail = `${weighing[field]} mm of ${NAMES[field]} left, but it had ${anode[field]} mm when new: measure again, or was it replaced?`
  return { field, code: 'larger-than-new', detail }
}

function heavierThanBefore({ anode, previous, weighing }: WeighingToJudge): Doubt | null {
  const before = previous ?? fittingMassOf(anode)
  const now = scaleMassOf(weighing)
  if (!before || !now) return null
  const gainG = now.massG - before.massG
  if (gainG <= acceptedGain(before, now, anode)) return null
  const then = previous ? `on ${previous.on}` : 'when it was fitted'
  const detail = `heavier by ${grams(gainG)} than ${then}: was the anode replaced? Log the replacement, or confirm`
  return { field: 'massG', code: 'heavier-than-before', detail }
}

function lighterThanLater({ anode, next, weighing }: WeighingToJudge): Doubt | null {
  const now = scaleMassOf(weighing)
  if (!next || !now || next.method !== 'scale') return null
  const gainG = next.massG - now.massG
  if (gainG <= acceptedGain(now, next, anode)) return null
  const detail = `lighter by ${grams(gainG)} than later, on ${next.on}: is the date right? Correct it, or confirm`
  return { field: 'massG', code: 'lighter-than-later', detail }
}

function scaleMassOf(weighing: Measured): KnownMass | null {
  if (weighing.method !== 'scale' || weighing.massG === null) return null
  return { ...weighing, on: weighing.weighedOn, massG: weighing.massG }
}

/**
 * How much heavier a later weighing may come out with nothing wrong: 4·√(σ₁² + σ₂²) + 2 % of the earlier net mass.
 *
 * @returns gain [g]
 */
export function acceptedGain(earlier: MassFound, later: MassFound, anode: AnodeWhenFitted): number {
  const combinedSd = Math.hypot(weighingSd(earlier, anode), weighingSd(later, anode))
  const netG = Math.max(earlier.massG - (anode.coreMassG ?? 0), 0)
  return ERROR_MULTIPLE * combinedSd + ALLOWED_GAIN_SHARE * netG
}

/** At most one decimal where it matters: nobody reads a dock scale finer. */
function plain(value: number): string {
  return String(Math.abs(value) < 10 ? Number(value.toPrecision(3)) : Number(value.toFixed(1)))
}

function grams(massG: number): string {
  return `${plain(massG)} g`
}
