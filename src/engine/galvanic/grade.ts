import {
  AREA_STEPS,
  type AreaStepRow,
  PAIR_GRADES,
  type PairGrade,
  POTENTIAL_STEPS,
} from '../reference/galvanic-grades.js'
import type { Water } from '../reference/vocabulary.js'

/** A grade, or `unknown` where what is known leaves more than one. */
export type CoupleGrade = PairGrade | 'unknown'

/** What the areas did to the grade. */
export type AreaEffect = 'not-asked' | 'not-counted' | 'unknown' | 'none' | 'better' | 'worse'

export interface JudgedCouple {
  readonly grade: CoupleGrade
  readonly byPotential: PairGrade
  readonly areas: AreaEffect
  /** Best and worst that unknown areas leave. */
  readonly between: readonly [PairGrade, PairGrade]
}

interface GradedFacts {
  readonly typicalVolts: number
  readonly areRolesCertain: boolean
  readonly exposedRatio: number | null
}

/** Differences of decimals such as −0.1 and −0.25 miss their value in the last bits; rows carry two digits. */
const HALF_A_LAST_BIT = 1e-9

/**
 * Grade of a couple: by the difference between the middles of the ranges, then moved by the areas.
 *
 * Up to the published limit for salt water it is compatible whatever the areas. Beyond it a cathode ten times the anode makes
 * it a step worse, an anode ten times the cathode a step better, a hundred times two. In fresh water, and where either may be
 * the anode, areas are not counted. Unknown areas leave the grade unknown, as every outcome is then possible.
 *
 * @param facts difference of the middles ≥ 0 [V], and the ratio of the exposed areas, cathode/anode [–]
 * @see reference `anodic-index-pages`, `mil-std-1250-page`, `area-ratio-note`
 * @example gradeCouple({ typicalVolts: 0.3, areRolesCertain: true, exposedRatio: 12 }, 'salt').grade // 'severe'
 */
export function gradeCouple(facts: GradedFacts, water: Water | null): JudgedCouple {
  const byPotential = gradeByPotential(facts.typicalVolts)
  const alone = { byPotential, between: [byPotential, byPotential] } as const
  if (byPotential === 'compatible') return { ...alone, grade: byPotential, areas: 'not-asked' }
  if (water === 'fresh' || !facts.areRolesCertain) return { ...alone, grade: byPotential, areas: 'not-counted' }
  const { exposedRatio } = facts
  if (exposedRatio === null) {
    const steps = AREA_STEPS.map((row) => row.steps)
    const between = [moved(byPotential, Math.min(...steps)), moved(byPotential, Math.max(...steps))] as const
    return { byPotential, between, grade: 'unknown', areas: 'unknown' }
  }
  const steps = areaSteps(exposedRatio)
  return { ...alone, grade: moved(byPotential, steps), areas: steps === 0 ? 'none' : steps > 0 ? 'worse' : 'better' }
}

function gradeByPotential(typicalVolts: number): PairGrade {
  return POTENTIAL_STEPS.find((row) => !('upToV' in row) || typicalVolts <= row.upToV + HALF_A_LAST_BIT)!.grade
}

function areaSteps(ratio: number): number {
  const rows: readonly AreaStepRow[] = AREA_STEPS
  const row = rows.find(({ ratioFrom, ratioUpTo }) => ratio >= (ratioFrom ?? Infinity) || ratio <= (ratioUpTo ?? 0))
  return row?.steps ?? 0
}

/** Never better than fair: potentials beyond the limit for salt water are never compatible. */
function moved(grade: PairGrade, steps: number): PairGrade {
  const at = PAIR_GRADES.indexOf(grade) + steps
  return PAIR_GRADES[Math.min(Math.max(at, 1), PAIR_GRADES.length - 1)]!
}
