import { CHECKS_AFLOAT } from './checks-afloat.js'
import { CHECKS_ASHORE } from './checks-ashore.js'
import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** What a boat or finding must have for a check to make sense. */
export type CheckNeed =
  | 'shore-power'
  | 'own-circuits'
  | 'anode'
  | 'fitting'
  | 'neighbours'
  | 'fittings-and-anodes'
  | 'water'

/** One check that a yard can make: it fills an observation, so its outcomes are that observation's states. */
export interface CheckRow {
  readonly key: string
  readonly observation: string
  readonly needs: CheckNeed
  readonly title: string
  readonly how: readonly string[]
  /** By state of the observation: what it looks like. */
  readonly outcomes: Readonly<Record<string, string>>
  /** Keys of `SIGNS_AND_SAFETY` that must be shown with it. */
  readonly cautions: readonly string[]
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

/** Checks that a yard can make, each tied to the observation it fills. */
export const DIAGNOSIS_CHECKS: readonly CheckRow[] = [...CHECKS_AFLOAT, ...CHECKS_ASHORE]
