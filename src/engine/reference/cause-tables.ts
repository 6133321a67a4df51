import type { Cause } from '../diagnosis/causes.js'
import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** How common a cause is among findings, before anything else is known of one. */
export interface CausePriorRow {
  readonly cause: Cause
  readonly probability: number
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

/** Something about the anode that nobody sees as such, but that several observations tell of. */
export const HIDDEN = ['joint', 'metal', 'leak', 'shore-loop', 'place'] as const
export type Hidden = (typeof HIDDEN)[number]

/**
 * Probabilities of the states in their order, adding to 1, under each parent: a cause, or a state of a hidden condition. `others` is
 * every parent that has no line of its own.
 */
export interface Likelihood {
  readonly others: readonly number[]
  readonly of?: Readonly<Partial<Record<string, readonly number[]>>>
}

/** A hidden condition: how likely each of its states is under each cause. */
export interface HiddenRow {
  readonly key: Hidden
  readonly states: readonly string[]
  readonly likelihood: Likelihood
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

/**
 * Something that can be observed of a finding. Observations with the same hidden parent say the same thing in several ways: they
 * depend on the cause only through it, so together they never weigh more than it does.
 */
export interface ObservationRow {
  readonly key: string
  readonly parent: 'cause' | Hidden
  readonly states: readonly string[]
  readonly likelihood: Likelihood
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}
