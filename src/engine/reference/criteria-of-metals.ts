import type { GalvanicMetal, MetalGroup } from './galvanic-series.js'
import { PROTECTION_CRITERIA, type ProtectionCriterionRow } from './protection-criteria.js'
import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** Materials that hulls are of. */
export type HullMaterial = 'grp' | 'wood' | 'steel' | 'aluminium' | 'ferrocement'

interface CriterionChoice {
  readonly key: string
  /** `metal` and `condition` of the criterion's row. */
  readonly criterion: string
  readonly condition: string
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

/** Which protection criterion stands for a group of the galvanic series. */
export interface CriterionOfGroupRow extends CriterionChoice {
  readonly group: MetalGroup
}

const CHOSEN = { status: 'assumed', sources: ['this-project'] } as const

/** Groups not listed have no published criterion: they need no protection, or are eaten before the metals they touch. */
export const CRITERION_OF_GROUP = [
  {
    key: 'iron',
    group: 'iron',
    criterion: 'carbon-steel',
    condition: 'aerated seawater',
    ...CHOSEN,
    note: 'steels and cast irons alike',
  },
  {
    key: 'stainless',
    group: 'stainless',
    criterion: 'stainless',
    condition: 'small craft, shafts and props',
    ...CHOSEN,
    note: 'the stricter of the published values, as small craft have seals and slow water',
  },
  {
    key: 'nickel',
    group: 'nickel',
    criterion: 'stainless',
    condition: 'small craft, shafts and props',
    ...CHOSEN,
    note: 'by analogy: nickel alloys serve as shafts and film over too',
  },
  {
    key: 'copper',
    group: 'copper',
    criterion: 'bronze',
    condition: 'small craft',
    ...CHOSEN,
    note: 'bronzes, brasses and cupronickels alike; the stricter of the published values',
  },
  {
    key: 'aluminium',
    group: 'aluminium',
    criterion: 'aluminium-alloys',
    condition: '5xxx, 6xxx hulls and drives',
    ...CHOSEN,
    note: 'hulls, drives and castings alike',
  },
] as const satisfies readonly CriterionOfGroupRow[]

/** Which criterion stands for a whole bonded hull. */
export interface CriterionOfHullRow extends CriterionChoice {
  readonly hull: HullMaterial
  /** Given where the row is for boats with a drive or fittings of aluminium. */
  readonly withAluminium?: true
}

const WHOLE = { condition: 'whole bonded hull', ...CHOSEN } as const
const AS_PRINTED = { ...WHOLE, note: 'as the table is printed' } as const

/** Ferrocement has no row: no criterion for it was found. */
export const CRITERION_OF_HULL = [
  {
    key: 'grp-aluminium-drive',
    hull: 'grp',
    withAluminium: true,
    criterion: 'hull-grp-aluminium-drive',
    ...WHOLE,
    note: 'where aluminium is bonded in',
  },
  { key: 'grp', hull: 'grp', criterion: 'hull-grp-inboard', ...AS_PRINTED },
  { key: 'wood', hull: 'wood', criterion: 'hull-wood', ...AS_PRINTED },
  { key: 'steel', hull: 'steel', criterion: 'hull-steel', ...AS_PRINTED },
  { key: 'aluminium', hull: 'aluminium', criterion: 'hull-aluminium', ...AS_PRINTED },
] as const satisfies readonly CriterionOfHullRow[]

/** Metals that are harmed beyond a limit of their own although their group is not. */
const LIMITED_METALS: readonly GalvanicMetal[] = ['aluminium-bronze', 'nickel-aluminium-bronze']

/** The criterion by which a metal of the series counts as protected; undefined where none fits. */
export function criterionOfMetal(group: MetalGroup): ProtectionCriterionRow | undefined {
  return chosen(CRITERION_OF_GROUP.find((row) => row.group === group))
}

/** The criterion of the whole bonded hull; undefined where none is known. */
export function criterionOfHull(hull: HullMaterial, hasAluminium: boolean): ProtectionCriterionRow | undefined {
  const rows: readonly CriterionOfHullRow[] = CRITERION_OF_HULL
  return chosen(rows.find((row) => row.hull === hull && (row.withAluminium === undefined || hasAluminium)))
}

/** The criterion whose lower limit a metal must not be driven beyond; undefined where none is known. */
export function limitOfMetal(metal: GalvanicMetal, group: MetalGroup): ProtectionCriterionRow | undefined {
  if (LIMITED_METALS.includes(metal)) return criterion('copper-alloys-with-aluminium', 'aluminium bronzes')
  const own = criterionOfMetal(group)
  return own?.notBelowV === undefined ? undefined : own
}

/** The row that keeps magnesium from aluminium and wood in salt and brackish water. */
export const MAGNESIUM_BAN = criterion('magnesium-on-aluminium-or-wood', 'salt or brackish water')

function chosen(choice: CriterionChoice | undefined): ProtectionCriterionRow | undefined {
  return choice && criterion(choice.criterion, choice.condition)
}

function criterion(metal: string, condition: string): ProtectionCriterionRow {
  return PROTECTION_CRITERIA.find((row) => row.metal === metal && row.condition === condition)!
}
