import type { CsvRowOf } from '../../../src/contract/csv/index.js'
import type { Condition } from '../../../src/contract/vocabulary.js'
import type { Cause } from '../../../src/engine/diagnosis/causes.js'
import type { TrueAnode } from '../anode-life.js'
import type { Draws } from '../draws.js'
import type { EvidenceHabits } from './abnormal-wear.js'
import { density, isMoreActive } from './galvanic-truth.js'
import type { Trouble } from './trouble.js'

type Chances = Partial<Record<Condition, number>>

/** What anodes of healthy boats look like to somebody in a hurry. */
const MISLEADING: Chances = {
  bright: 0.3,
  crusted: 0.25,
  'sharp-edged': 0.12,
  painted: 0.05,
  loose: 0.04,
  undercut: 0.1,
  broken: 0.01,
  pitted: 0.06,
}
const HEALTHY: Chances = { even: 0.85 }

/** How often a fault shows, code by code: none always does. */
const SHOWN: Readonly<Record<Cause, Chances>> = {
  'stray-current-onboard': { bright: 0.6, 'sharp-edged': 0.5, pitted: 0.15, even: 0.2 },
  'stray-current-shore': { bright: 0.5, 'sharp-edged': 0.3, pitted: 0.08, even: 0.35 },
  'wrong-alloy-for-water': { crusted: 0.7, even: 0.2 },
  'alloy-not-as-declared': { even: 0.6, crusted: 0.15, bright: 0.2 },
  'no-electrical-contact': { painted: 0.4, loose: 0.3, even: 0.2, crusted: 0.1 },
  passivated: { crusted: 0.75, even: 0.15 },
  'mixed-alloys': { even: 0.5, bright: 0.35, 'sharp-edged': 0.15 },
  undersized: { even: 0.8 },
  'mechanical-loss': { broken: 0.75, loose: 0.15, 'sharp-edged': 0.1 },
  'berth-environment': { even: 0.75, bright: 0.08, crusted: 0.08 },
}
const MAGNESIUM_IN_SALT: Chances = { bright: 0.3, even: 0.5, 'paint-blistered': 0.3, scaled: 0.3 }
/** Anodes beside one that does all the work, or none. */
const SUPPRESSED: Chances = { even: 0.7, crusted: 0.2 }

/** Codes written at a look; none where nobody wrote any. */
export function codesOf(
  draws: Draws,
  habits: EvidenceHabits,
  trouble: Trouble,
  anode: TrueAnode,
  at: number,
): Condition[] {
  const isWritten = draws.chance(habits.codes)
  const isMisleading = draws.chance(habits.misleading)
  const chances = isMisleading ? MISLEADING : chancesOf(trouble, anode, at)
  const codes = (Object.entries(chances) as [Condition, number][]).filter(([, chance]) => draws.chance(chance))
  if (trouble.fault?.cause === 'mechanical-loss' && isStruck(trouble, anode, at) && anode.massG === 0)
    return ['missing']
  return isWritten ? consistent(codes.map(([code]) => code)) : []
}

/** Nobody writes `even` beside a shape that is none. */
function consistent(codes: Condition[]): Condition[] {
  return codes.length > 1 ? codes.filter((code) => code !== 'even') : codes
}

function isStruck(trouble: Trouble, anode: TrueAnode, at: number): boolean {
  const since = trouble.affected.get(anode)
  return since !== undefined && at >= since && at <= trouble.endedBy(Infinity)
}

function chancesOf(trouble: Trouble, anode: TrueAnode, at: number): Chances {
  const { fault } = trouble
  if (fault === null) return HEALTHY
  if (!isStruck(trouble, anode, at)) {
    const beside = [...trouble.affected.keys()].some((other) =>
      isMoreActive(trouble.trulyOf(other), trouble.trulyOf(anode)),
    )
    return beside && isStruckAny(trouble, at) ? SUPPRESSED : HEALTHY
  }
  if (fault.cause === 'wrong-alloy-for-water' && fault.alloy === 'magnesium') return MAGNESIUM_IN_SALT
  return SHOWN[fault.cause]
}

function isStruckAny(trouble: Trouble, at: number): boolean {
  return [...trouble.affected.keys()].some((other) => isStruck(trouble, other, at))
}

const FRESH_G_PER_CM3 = 0.9985
const SALT_G_PER_CM3 = 1.0255
const CORE_G_PER_CM3 = 7.86

/** An anode hung in water from the same scale: by its true metal's volume, with a bubble or two. */
export function hung(draws: Draws, habits: EvidenceHabits, trouble: Trouble, anode: TrueAnode, resolutionG: number) {
  const isHung = draws.chance(habits.submerged)
  const submergedIn = draws.pick(['fresh', 'fresh', 'salt'] as const)
  const volumeCm3 = anode.massG / density(trouble.trulyOf(anode)) + anode.coreMassG / CORE_G_PER_CM3
  const liftG =
    volumeCm3 * (submergedIn === 'fresh' ? FRESH_G_PER_CM3 : SALT_G_PER_CM3) * (1 + Math.abs(draws.normal(0.01)))
  const read = anode.massG + anode.coreMassG - liftG + draws.normal(0.7 + 0.002 * anode.massG)
  const submergedG = Math.max(0, Math.round(read / resolutionG) * resolutionG)
  return isHung ? { submerged_mass_g: submergedG, submerged_in: submergedIn } : {}
}

/** Resistance of an anode to the bond. */
export function continuityOf(
  draws: Draws,
  habits: EvidenceHabits,
  trouble: Trouble,
  anode: TrueAnode,
  { boat, date, at }: { readonly boat: string; readonly date: string; readonly at: number },
): CsvRowOf<'continuity.csv'>[] {
  const isMeasured = draws.chance(habits.continuity)
  const isApart = trouble.fault?.cause === 'no-electrical-contact' && isStruck(trouble, anode, at)
  const good = 0.05 * draws.lognormal(0.9)
  const bad = 12 * draws.lognormal(1.5)
  // A probe on paint or on a wet clip reads high, and one on the stud instead of the anode reads well.
  const isMisread = draws.chance(0.03)
  const ohms = isApart !== isMisread ? bad : good
  if (!isMeasured) return []
  return [
    { boat, measured_at: `${date}T14:00:00.000Z`, from: anode.name, to: 'bond', ohms: Number(ohms.toPrecision(2)) },
  ]
}
