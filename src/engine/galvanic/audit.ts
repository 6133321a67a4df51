import { galvanicCaution } from '../reference/galvanic-cautions.js'
import { AREA_STEPS, PAIR_GRADES, POTENTIAL_STEPS } from '../reference/galvanic-grades.js'
import { galvanicMetal } from '../reference/galvanic-series.js'
import type { SourceKey } from '../reference/sources.js'
import type { AnodeAlloy, Water } from '../reference/vocabulary.js'
import { type BoatFitting, type GalvanicBoat, type MetalOfBoat, metalsOf } from './boat-metals.js'
import { cautionsFor, type RaisedCaution } from './cautions.js'
import { type Connections, connectionsOf } from './connections.js'
import { couple, type FilmedCouple } from './couple.js'
import { type JudgedPotential, judgedPotentials } from './judged-potentials.js'
import { type Overprotection, overprotectionBy } from './overprotection.js'
import { type AlloyProtection, protectionBy } from './protection.js'
import { type AuditQuestion, questionsOf } from './questions.js'
import { because } from './reason-codes.js'

/** Two metals of one boat that metal joins, or that it would join if an unrecorded bond is there. */
export interface AuditPair extends FilmedCouple {
  readonly cathodeFittings: readonly string[]
  readonly anodeFittings: readonly string[]
  readonly connection: 'connected' | 'not-recorded'
  /** Fittings of the anode, where all of them are painted and the cathode is bare. */
  readonly paintedAnode: readonly string[]
}

/** A metal of the boat, and whether it takes part in a pair. */
export interface AuditMetal extends MetalOfBoat {
  readonly connection: 'connected' | 'not-recorded' | 'alone'
}

/** All that a boat's metals, anodes and readings say of galvanic corrosion. */
export interface GalvanicAudit {
  readonly metals: readonly AuditMetal[]
  readonly pairs: readonly AuditPair[]
  readonly protection: readonly AlloyProtection[]
  readonly overprotection: readonly Overprotection[]
  readonly potentials: readonly JudgedPotential[]
  readonly cautions: readonly RaisedCaution[]
  readonly questions: readonly AuditQuestion[]
  readonly sources: readonly SourceKey[]
}

/**
 * The galvanic audit of a boat: each pair of metals that metal joins in the same water, whether the anodes can protect them
 * all, whether they can do harm, what the latest potentials say, cautions, and what would have to be known to say more.
 *
 * Fittings of one metal in one connected system count as one surface. Where nobody recorded whether a fitting is bonded, its
 * pairs are told with the grade unknown. Never throws for gaps in the record: they become questions.
 *
 * @throws OutOfRange for an area that is negative
 * @see `couple`, `connectionsOf`, `protectionBy`, `overprotectionBy`, `judgedPotentials`
 */
export function auditGalvanics(boat: GalvanicBoat): GalvanicAudit {
  const connections = connectionsOf(boat)
  const joined = connections.systems.flatMap((system) => pairsWithin(metalsOf(system.fittings), boat.water))
  const pairs = [...joined, ...pairsInDoubt(connections, boat.water)].sort(worstFirst)
  const anodes = connections.systems.flatMap((system) => system.anodes)
  const alloys = [...new Set(anodes.flatMap(({ alloy }): AnodeAlloy[] => (alloy === null ? [] : [alloy])))]
  const served = metalsOf(servedBy(connections).flatMap((system) => system.fittings))
  const audit = {
    metals: metalsWithConnection(connections),
    pairs,
    protection: protectionBy(served, alloys, boat.water),
    overprotection: overprotectionBy(alloys, { hull: boat.hull, water: boat.water, metals: served }),
    potentials: judgedPotentials(boat),
    cautions: cautionsFor(boat, connections, pairs),
    questions: questionsOf(boat),
  }
  return { ...audit, sources: sourcesOf(audit) }
}

/** The systems with anodes on them; where there is none, the bonded one, which anodes would serve. */
function servedBy({ systems }: Connections) {
  const withAnodes = systems.filter(({ anodes }) => anodes.length > 0)
  return withAnodes.length > 0 ? withAnodes : systems.filter(({ isBonded }) => isBonded)
}

function pairsWithin(metals: readonly MetalOfBoat[], water: Water | null): AuditPair[] {
  return metals.flatMap((one, at) =>
    metals.slice(at + 1).map((other) => ({ ...pairOf(one, other, water), connection: 'connected' as const })),
  )
}

/** Pairs of fittings that may be bonded or not with the metals of the bond: what they would be, without a grade. */
function pairsInDoubt({ systems, unknown }: Connections, water: Water | null): AuditPair[] {
  const bonded = metalsOf(systems.filter(({ isBonded }) => isBonded).flatMap(({ fittings }) => fittings))
  const loose = metalsOf(unknown)
  const across = loose.flatMap((one) =>
    bonded.filter(({ metal }) => metal !== one.metal).map((other) => pairOf(one, other, water)),
  )
  const among = pairsWithin(loose, water)
  return [...across, ...among].map((pair) => {
    const parts = loose.filter(({ metal }) => metal === pair.cathode.metal || metal === pair.anode.metal)
    const which = parts.flatMap(({ fittings }) => fittings).join(', ')
    const reasons = [
      because('bond/not-recorded', { fittings: which }),
      ...(pair.grade === 'unknown' ? [] : [because('bond/if-bonded', { grade: pair.grade })]),
      ...pair.reasons,
    ]
    return { ...pair, grade: 'unknown', connection: 'not-recorded', reasons, whenFilmLost: [] }
  })
}

function pairOf(one: MetalOfBoat, other: MetalOfBoat, water: Water | null): Omit<AuditPair, 'connection'> {
  const judged = couple(one, other, water)
  const [cathode, anode] = judged.cathode.metal === one.metal ? [one, other] : [other, one]
  const isAnodePainted = anode.isPainted && !cathode.isPainted
  return {
    ...judged,
    cathodeFittings: cathode.fittings,
    anodeFittings: anode.fittings,
    paintedAnode: isAnodePainted ? anode.fittings : [],
  }
}

const SEVERITY: readonly string[] = [...PAIR_GRADES].reverse()

/** Connected before doubtful, then by grade, unknown after the severe and the poor, then by potential. */
function worstFirst(one: AuditPair, other: AuditPair): number {
  const rank = ({ grade, connection }: AuditPair) =>
    (connection === 'connected' ? 0 : 10) + (grade === 'unknown' ? 1.5 : SEVERITY.indexOf(grade))
  return rank(one) - rank(other) || other.typicalVolts - one.typicalVolts
}

function metalsWithConnection({ systems, unknown, alone }: Connections): readonly AuditMetal[] {
  const of = (fittings: readonly BoatFitting[], connection: AuditMetal['connection']) =>
    metalsOf(fittings).map((metal) => ({ ...metal, connection }))
  const joined = systems.flatMap(({ fittings }) => fittings)
  return [...of(joined, 'connected'), ...of(unknown, 'not-recorded'), ...of(alone, 'alone')]
}

/** Every source that a row behind the audit names, each once, in the order of use. */
function sourcesOf(audit: Omit<GalvanicAudit, 'sources'>): readonly SourceKey[] {
  const ofPairs = audit.pairs.length === 0 ? [] : [...POTENTIAL_STEPS, ...AREA_STEPS]
  const rows: readonly { readonly sources: readonly SourceKey[] }[] = [
    ...audit.metals.map(({ metal }) => galvanicMetal(metal)),
    ...ofPairs,
    ...audit.protection.flatMap(({ metals }) => metals.map(({ criterion }) => criterion)),
    ...audit.overprotection.map(({ criterion }) => criterion),
    ...audit.potentials.flatMap(({ criterion }) => (criterion === null ? [] : [criterion])),
    ...audit.cautions.map(({ key }) => galvanicCaution(key)),
  ]
  return [...new Set(rows.flatMap(({ sources }) => sources))]
}
