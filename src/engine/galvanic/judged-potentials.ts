import { convertPotential } from '../electrochemistry/electrode.js'
import { criterionOfHull, criterionOfMetal, limitOfMetal } from '../reference/criteria-of-metals.js'
import { galvanicMetal } from '../reference/galvanic-series.js'
import type { ProtectionCriterionRow } from '../reference/protection-criteria.js'
import type { GalvanicBoat, PotentialValue } from './boat-metals.js'
import { because, type Reason } from './reason-codes.js'

export const POTENTIAL_VERDICTS = ['protected', 'under-protected', 'over-protected', 'not-judged'] as const
export type PotentialVerdict = (typeof POTENTIAL_VERDICTS)[number]

/** The latest potential of one metal or of the bonded hull, held against its criterion. */
export interface JudgedPotential {
  readonly at: string
  /** `null` is the bonded hull. */
  readonly fitting: string | null
  /** Against silver/silver chloride in seawater; `null` where the reference electrode is not known [V]. */
  readonly voltsAgAgcl: number | null
  readonly verdict: PotentialVerdict
  readonly criterion: ProtectionCriterionRow | null
  readonly reason: Reason
}

/** No metal of a boat reads above this in the water against any dock electrode but zinc [V]; platinum and carbon do. */
const SIGN_IN_DOUBT_ABOVE_V = 0.4

/** A reading whose sign cannot be right: a bonded hull or a metal with anodes reads below 0 against all but a zinc electrode. */
export function hasDoubtfulSign({ volts, reference }: PotentialValue): boolean {
  return reference !== 'zinc' && volts > SIGN_IN_DOUBT_ABOVE_V
}

/**
 * The latest reading of each metal and of the hull, converted to one electrode and judged by its criterion.
 *
 * In fresh water, against an unknown electrode, with a doubtful sign, or where no criterion fits, nothing is judged and the
 * reason says so.
 *
 * @see reference `boat-voltages-page`, `en-12473-page`, `en-12473`
 */
export function judgedPotentials(boat: GalvanicBoat): readonly JudgedPotential[] {
  const latest = new Map<string | null, PotentialValue>()
  for (const reading of boat.potentials) {
    const known = latest.get(reading.fitting)
    if (known === undefined || known.at <= reading.at) latest.set(reading.fitting, reading)
  }
  return [...latest.values()].map((reading) => judged(reading, boat))
}

/** Potentials against silver/silver chloride in seawater between which something counts as protected [V]. */
export interface ProtectionWindow {
  readonly protectedAtOrBelowV: number
  /** Harm beyond it; undefined where no limit is known. */
  readonly notBelowV: number | undefined
  readonly criterion: ProtectionCriterionRow
}

function judged(reading: PotentialValue, boat: GalvanicBoat): JudgedPotential {
  const { at, fitting, reference, volts } = reading
  const open = { at, fitting, verdict: 'not-judged', criterion: null } as const
  if (reference === null) {
    return { ...open, voltsAgAgcl: null, reason: because('reading/no-reference', {}) }
  }
  const voltsAgAgcl = convertPotential(volts, reference, 'ag-agcl-seawater')
  if (hasDoubtfulSign(reading)) return { ...open, voltsAgAgcl, reason: because('reading/sign-in-doubt', {}) }
  if (boat.water === 'fresh') return { ...open, voltsAgAgcl, reason: because('reading/fresh', {}) }
  const window = protectionWindowOf(fitting, boat)
  if (window === undefined) return { ...open, voltsAgAgcl, reason: because('reading/no-criterion', {}) }
  return { at, fitting, voltsAgAgcl, criterion: window.criterion, ...verdictOf(voltsAgAgcl, window) }
}

/**
 * The potentials between which a fitting, or for `null` the bonded hull, counts as protected in seawater.
 *
 * @returns undefined where its material is not known, or no criterion of it
 * @see reference `boat-voltages-page`, `en-12473-page`, `en-12473`
 */
export function protectionWindowOf(
  fitting: string | null,
  { hull, fittings }: Pick<GalvanicBoat, 'hull' | 'fittings'>,
): ProtectionWindow | undefined {
  if (fitting === null) {
    const hasAluminium = fittings.some(({ metal }) => metal !== null && galvanicMetal(metal).group === 'aluminium')
    return hull === null ? undefined : windowFrom(criterionOfHull(hull, hasAluminium))
  }
  const metal = fittings.find((each) => each.fitting === fitting)?.metal
  if (metal === undefined || metal === null) return undefined
  const { group } = galvanicMetal(metal)
  return windowFrom(criterionOfMetal(group), limitOfMetal(metal, group)?.notBelowV)
}

function windowFrom(criterion: ProtectionCriterionRow | undefined, notBelowV?: number): ProtectionWindow | undefined {
  if (criterion?.protectedAtOrBelowV === undefined) return undefined
  const { protectedAtOrBelowV } = criterion
  return { criterion, protectedAtOrBelowV, notBelowV: notBelowV ?? criterion.notBelowV }
}

function verdictOf(read: number, { protectedAtOrBelowV: asked, notBelowV: limit }: ProtectionWindow) {
  if (read > asked) {
    return { verdict: 'under-protected', reason: because('reading/under-protected', { read, asked }) } as const
  }
  if (limit !== undefined && read < limit) {
    return { verdict: 'over-protected', reason: because('reading/over-protected', { read, limit }) } as const
  }
  return { verdict: 'protected', reason: because('reading/protected', { read, asked }) } as const
}
