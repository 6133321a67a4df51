import { POTENTIAL_STEPS } from '../reference/galvanic-grades.js'
import type { GalvanicMetal } from '../reference/galvanic-series.js'
import type { Water } from '../reference/vocabulary.js'
import type { JudgedCouple } from './grade.js'
import { because, type Reason } from './reason-codes.js'

interface ReasonedFacts {
  readonly cathode: { readonly metal: GalvanicMetal }
  readonly anode: { readonly metal: GalvanicMetal }
  readonly areRolesCertain: boolean
  readonly deltaVolts: { readonly low: number; readonly high: number }
  readonly typicalVolts: number
  readonly areaRatio: number | null
  readonly exposedRatio: number | null
}

/** Metals that anodes are cast of; aluminium is a fitting's metal as often. */
const ANODE_METALS: readonly GalvanicMetal[] = ['zinc', 'magnesium']

const SALT_LIMIT_V = POTENTIAL_STEPS.find((row) => row.key === 'salt-water-limit')!.upToV

/** The grade of a couple in sentences: what the potentials say, then what the areas and the water make of it. */
export function reasonsOf(facts: ReasonedFacts, judged: JudgedCouple, water: Water | null): readonly Reason[] {
  return [
    potentialReason(facts),
    ...areaReasons(facts, judged),
    ...purposeReasons(facts),
    ...(water === null ? [because('water/not-known', {})] : water === 'fresh' ? [because('water/fresh', {})] : []),
  ]
}

function potentialReason({ cathode, anode, areRolesCertain, deltaVolts, typicalVolts }: ReasonedFacts): Reason {
  if (cathode.metal === anode.metal) return because('pair/same-metal', { metal: cathode.metal })
  const metals = { cathode: cathode.metal, anode: anode.metal }
  const { low, high } = deltaVolts
  if (!areRolesCertain) return because('pair/overlap', { ...metals, high })
  return because('pair/apart', { ...metals, low, high, middle: typicalVolts })
}

function areaReasons({ areaRatio, exposedRatio }: ReasonedFacts, judged: JudgedCouple): Reason[] {
  const { areas, byPotential: grade, between } = judged
  if (areas === 'not-asked') return [because('areas/not-asked', { limit: SALT_LIMIT_V })]
  if (areas === 'not-counted') return [because('areas/not-counted', { grade })]
  if (areas === 'unknown' || exposedRatio === null) {
    return [because('areas/open', { grade, best: between[0], worst: between[1] })]
  }
  const isPainted = areaRatio !== null && areaRatio !== exposedRatio
  return [ratioReason(exposedRatio, areas), ...(isPainted ? [because('areas/painted', {})] : [])]
}

/** @param ratio of the exposed areas, cathode/anode [–] */
function ratioReason(ratio: number, areas: 'none' | 'better' | 'worse'): Reason {
  if (areas === 'worse') return because('areas/worse', { times: ratio })
  if (areas === 'better') return because('areas/better', { inverse: 1 / ratio })
  return ratio >= 1
    ? because('areas/larger-cathode', { times: ratio })
    : because('areas/larger-anode', { inverse: 1 / ratio })
}

function purposeReasons({ cathode, anode }: ReasonedFacts): Reason[] {
  const isSacrificial = ANODE_METALS.includes(anode.metal) && cathode.metal !== anode.metal
  return isSacrificial ? [because('pair/sacrificial', { metal: anode.metal })] : []
}
