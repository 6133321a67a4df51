import { convertPotential } from '../electrochemistry/electrode.js'
import { designAlloy, type Suitability } from '../reference/anode-alloys.js'
import { criterionOfMetal } from '../reference/criteria-of-metals.js'
import { SACRIFICIAL_GROUPS } from '../reference/fitting-demand.js'
import { GALVANIC_AUDIT_FIGURES } from '../reference/galvanic-grades.js'
import { type GalvanicMetal, galvanicMetal, midpointVSce } from '../reference/galvanic-series.js'
import { PROTECTION_CRITERIA, type ProtectionCriterionRow } from '../reference/protection-criteria.js'
import { ANODE_ALLOYS, type AnodeAlloy, type Water } from '../reference/vocabulary.js'
import type { MetalOfBoat } from './boat-metals.js'
import { because, type Reason } from './reason-codes.js'

export const PROTECTION_VERDICTS = ['protects', 'barely', 'cannot', 'unsuited', 'unknown'] as const
export type ProtectionVerdict = (typeof PROTECTION_VERDICTS)[number]

/** What an alloy can do for one metal. All potentials against silver/silver chloride in seawater [V]. */
export interface ProtectedMetal {
  readonly metal: GalvanicMetal
  readonly fittings: readonly string[]
  /** Protected at this potential or a more negative one. */
  readonly protectedAtV: number
  /** How far the anode's closed-circuit potential lies below that; negative where it does not reach it. */
  readonly marginV: number
  /** The criterion's row, or the shift by 0.2 V where no criterion fits the metal. */
  readonly criterion: ProtectionCriterionRow
}

/** Whether anodes of an alloy can protect every metal that they are joined to. */
export interface AlloyProtection {
  readonly alloy: AnodeAlloy
  readonly isFitted: boolean
  readonly anodeV: number
  readonly suitsWater: Suitability | null
  readonly verdict: ProtectionVerdict
  readonly metals: readonly ProtectedMetal[]
  readonly reasons: readonly Reason[]
}

const SHIFT = PROTECTION_CRITERIA.find((row) => row.metal === 'any-bonded-metal')!

/** Noble metals and carbon are only ever the cathode: nothing has to be protected. */
const NEVER_ANODES = ['carbon', 'noble', 'titanium'] as const

/**
 * Whether each alloy can protect all metals joined to it: its closed-circuit potential must lie below what the most demanding
 * metal asks for, by a margin, and the alloy must stay active in the water. Metals without a criterion of their own are asked
 * for a shift of 0.2 V from the middle of their range. Whether the anodes are large enough is another question: see sizing.
 *
 * @see reference `boat-voltages-page`, `en-12473-page`, `troubleshooting-manual-p110`
 */
export function protectionBy(
  metals: readonly MetalOfBoat[],
  fitted: readonly AnodeAlloy[],
  water: Water | null,
): readonly AlloyProtection[] {
  return ANODE_ALLOYS.map((alloy) => {
    const { closedCircuitVAgAgcl: anodeV, suits } = designAlloy(alloy)
    const judged = metals.flatMap((metal) => protectedMetal(metal, anodeV))
    const suitsWater = water === null ? null : suits[water]
    const verdict = verdictOf(judged, suitsWater)
    const reasons = reasonsFor({ alloy, anodeV, judged, verdict, suitsWater, water })
    return { alloy, isFitted: fitted.includes(alloy), anodeV, suitsWater, verdict, metals: judged, reasons }
  })
}

function protectedMetal({ metal, fittings }: MetalOfBoat, anodeV: number): ProtectedMetal[] {
  const row = galvanicMetal(metal)
  const needsNone: readonly string[] = [...SACRIFICIAL_GROUPS, ...NEVER_ANODES]
  if (needsNone.includes(row.group)) return []
  const own = criterionOfMetal(row.group)
  const shifted = convertPotential(midpointVSce(row), 'sce', 'ag-agcl-seawater') + SHIFT.protectedAtOrBelowV!
  const protectedAtV = own?.protectedAtOrBelowV ?? shifted
  return [{ metal, fittings, protectedAtV, marginV: protectedAtV - anodeV, criterion: own ?? SHIFT }]
}

function verdictOf(judged: readonly ProtectedMetal[], suitsWater: Suitability | null): ProtectionVerdict {
  if (suitsWater === 'no') return 'unsuited'
  if (suitsWater === null || judged.length === 0) return 'unknown'
  const least = Math.min(...judged.map(({ marginV }) => marginV))
  if (least < 0) return 'cannot'
  const isThin = least < GALVANIC_AUDIT_FIGURES.protectionMargin.value - ROUNDING_V
  return isThin || suitsWater === 'limited' ? 'barely' : 'protects'
}

/** Differences of decimals miss their value in the last bits; criteria carry two digits. */
const ROUNDING_V = 1e-9

interface Reasoned {
  readonly alloy: AnodeAlloy
  readonly anodeV: number
  readonly judged: readonly ProtectedMetal[]
  readonly verdict: ProtectionVerdict
  readonly suitsWater: Suitability | null
  readonly water: Water | null
}

function reasonsFor({ alloy, anodeV, judged, verdict, suitsWater, water }: Reasoned): readonly Reason[] {
  if (verdict === 'unsuited' && water !== null) return [because(`protection/unsuited-${alloy}`, { water })]
  if (judged.length === 0) return [because('protection/nothing-to-protect', {})]
  const worst = judged.reduce((most, each) => (each.marginV < most.marginV ? each : most))
  const figures = {
    metal: worst.metal,
    asked: worst.protectedAtV,
    given: anodeV,
    margin: Math.abs(worst.marginV),
  }
  const margin = because(worst.marginV < 0 ? 'protection/too-little' : 'protection/in-hand', figures)
  if (water === null) return [margin, because('protection/water-not-known', {})]
  return suitsWater === 'limited' ? [margin, because(`protection/limited-${alloy}`, { water })] : [margin]
}
