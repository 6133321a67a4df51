import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** A rule of the trade, in words and, where it has one, as a number or a range. */
export interface RuleOfPracticeRow {
  readonly key: string
  readonly topic: 'replacement' | 'inspection' | 'normal-life' | 'signs' | 'galvanic-isolator' | 'safety'
  readonly value?: number | readonly [number, number]
  readonly unit?: string
  readonly text: string
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}
