import { designAlloy } from '../reference/anode-alloys.js'
import { criterionOfHull, type HullMaterial, limitOfMetal, MAGNESIUM_BAN } from '../reference/criteria-of-metals.js'
import { type GalvanicMetal, galvanicMetal } from '../reference/galvanic-series.js'
import type { ProtectionCriterionRow } from '../reference/protection-criteria.js'
import type { AnodeAlloy, Water } from '../reference/vocabulary.js'
import type { MetalOfBoat } from './boat-metals.js'
import { sayPotential } from './reason.js'

export const OVERPROTECTION_VERDICTS = ['within', 'possible', 'forbidden'] as const
export type OverprotectionVerdict = (typeof OVERPROTECTION_VERDICTS)[number]

/** Whether anodes of an alloy could drive a hull or a metal beyond its limit. Against silver/silver chloride in seawater [V]. */
export interface Overprotection {
  readonly alloy: AnodeAlloy
  readonly of: { readonly hull: HullMaterial } | { readonly metal: GalvanicMetal; readonly fittings: readonly string[] }
  readonly limitV: number
  readonly anodeV: number
  readonly verdict: OverprotectionVerdict
  readonly reason: string
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
  readonly name: string
  readonly criterion: ProtectionCriterionRow
  readonly isBannedForMagnesium: boolean
}

function limitsOf({ hull, metals }: LimitedBoat): readonly Limit[] {
  const hasAluminium = metals.some(({ metal }) => galvanicMetal(metal).group === 'aluminium')
  const ofHull = hull === null ? undefined : criterionOfHull(hull, hasAluminium)
  const hullLimit: Limit[] =
    hull === null || ofHull === undefined
      ? []
      : [{ of: { hull }, name: HULL_WORDS[hull], criterion: ofHull, isBannedForMagnesium: isBannedOn(hull) }]
  const metalLimits = metals.flatMap(({ metal, fittings }): Limit[] => {
    const { group, name } = galvanicMetal(metal)
    const criterion = limitOfMetal(metal, group)
    if (criterion === undefined) return []
    return [{ of: { metal, fittings }, name, criterion, isBannedForMagnesium: group === 'aluminium' }]
  })
  return [...hullLimit, ...metalLimits]
}

const HULL_WORDS: Readonly<Record<HullMaterial, string>> = {
  grp: 'A hull of glass-reinforced plastic',
  wood: 'A wooden hull',
  steel: 'A steel hull',
  aluminium: 'An aluminium hull',
  ferrocement: 'A ferrocement hull',
}

function isBannedOn(hull: HullMaterial): boolean {
  return hull === 'wood' || hull === 'aluminium'
}

function judged(alloy: AnodeAlloy, limit: Limit, water: Water | null): Overprotection {
  const { closedCircuitVAgAgcl: anodeV } = designAlloy(alloy)
  const limitV = limit.criterion.notBelowV!
  const isForbidden = alloy === 'magnesium' && limit.isBannedForMagnesium && water !== 'fresh' && water !== null
  const criterion = isForbidden ? MAGNESIUM_BAN : limit.criterion
  const base = { alloy, of: limit.of, limitV, anodeV, criterion }
  const figures = `can be harmed beyond ${sayPotential(limitV)}; ${alloy} anodes are at ${sayPotential(anodeV)}`
  if (isForbidden) {
    const reason = `${limit.name} ${figures}. Magnesium is not to be used there in ${water} water: take it off.`
    return { ...base, verdict: 'forbidden', reason }
  }
  if (anodeV >= limitV) {
    return { ...base, verdict: 'within', reason: `${limit.name} ${figures}, so they cannot drive it there.` }
  }
  const reason = `${limit.name} ${figures}: too many of them can drive it there. Measure, with the anodes fitted.`
  return { ...base, verdict: 'possible', reason }
}
