import { designAlloy } from '../reference/anode-alloys.js'
import { criterionOfHull, type HullMaterial, limitOfMetal, MAGNESIUM_BAN } from '../reference/criteria-of-metals.js'
import { type GalvanicMetal, galvanicMetal } from '../reference/galvanic-series.js'
import type { ProtectionCriterionRow } from '../reference/protection-criteria.js'
import type { AnodeAlloy, Water } from '../reference/vocabulary.js'
import type { MetalOfBoat } from './boat-metals.js'
import { because, type Reason } from './reason-codes.js'

export const OVERPROTECTION_VERDICTS = ['within', 'possible', 'forbidden'] as const
export type OverprotectionVerdict = (typeof OVERPROTECTION_VERDICTS)[number]

/** Whether anodes of an alloy could drive a hull or a metal beyond its limit. Against silver/silver chloride in seawater [V]. */
export interface Overprotection {
  readonly alloy: AnodeAlloy
  readonly of: { readonly hull: HullMaterial } | { readonly metal: GalvanicMetal; readonly fittings: readonly string[] }
  readonly limitV: number
  readonly anodeV: number
  readonly verdict: OverprotectionVerdict
  readonly reasons: readonly Reason[]
  readonly criterion: ProtectionCriterionRow
}

/** What an audit knows of the limits' surroundings. */
export interface LimitedBoat {
  readonly hull: HullMaterial | null
  readonly water: Water | null
  readonly metals: readonly MetalOfBoat[]
}

/**
 * Limits that the fitted alloys could pass. A bonded hull lies between its metals' free potentials and its anodes', so an anode
 * above the limit cannot drive it beyond; one below it can, if there is much of it. Magnesium on aluminium or wood in salt or
 * brackish water is never right.
 *
 * @see reference `boat-voltages-page`, `troubleshooting-manual-p111`
 */
export function overprotectionBy(alloys: readonly AnodeAlloy[], boat: LimitedBoat): readonly Overprotection[] {
  const limits = limitsOf(boat)
  return alloys.flatMap((alloy) => limits.map((limit) => judged(alloy, limit, boat.water)))
}

interface Limit {
  readonly of: Overprotection['of']
  readonly criterion: ProtectionCriterionRow
  readonly isBannedForMagnesium: boolean
}

function limitsOf({ hull, metals }: LimitedBoat): readonly Limit[] {
  const hasAluminium = metals.some(({ metal }) => galvanicMetal(metal).group === 'aluminium')
  const ofHull = hull === null ? undefined : criterionOfHull(hull, hasAluminium)
  const hullLimit: Limit[] =
    hull === null || ofHull === undefined
      ? []
      : [{ of: { hull }, criterion: ofHull, isBannedForMagnesium: isBannedOn(hull) }]
  const metalLimits = metals.flatMap(({ metal, fittings }): Limit[] => {
    const { group } = galvanicMetal(metal)
    const criterion = limitOfMetal(metal, group)
    if (criterion === undefined) return []
    return [{ of: { metal, fittings }, criterion, isBannedForMagnesium: group === 'aluminium' }]
  })
  return [...hullLimit, ...metalLimits]
}

function isBannedOn(hull: HullMaterial): boolean {
  return hull === 'wood' || hull === 'aluminium'
}

function judged(alloy: AnodeAlloy, limit: Limit, water: Water | null): Overprotection {
  const { closedCircuitVAgAgcl: anodeV } = designAlloy(alloy)
  const limitV = limit.criterion.notBelowV!
  const isBanned = alloy === 'magnesium' && limit.isBannedForMagnesium
  const base = { alloy, of: limit.of, limitV, anodeV, criterion: limit.criterion }
  const harm =
    'hull' in limit.of
      ? because('limit/of-hull', { hull: limit.of.hull, limit: limitV })
      : because('limit/of-metal', { metal: limit.of.metal, limit: limitV })
  if (isBanned && water !== 'fresh' && water !== null) {
    const reasons = [harm, because('limit/forbidden', { given: anodeV, water })]
    return { ...base, criterion: MAGNESIUM_BAN, verdict: 'forbidden', reasons }
  }
  const verdict = anodeV >= limitV ? 'within' : 'possible'
  return { ...base, verdict, reasons: [harm, because(`limit/${verdict}`, { alloy, given: anodeV })] }
}
