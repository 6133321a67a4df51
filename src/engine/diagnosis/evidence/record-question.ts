import type { Said } from '../../said.js'
import type { RecordQuestionCode } from './question-codes.js'

/** What of a record may contradict itself, or what else is on record. */
export const QUESTION_KINDS = ['potential', 'continuity', 'look', 'density', 'water'] as const
export type QuestionKind = (typeof QUESTION_KINDS)[number]

/** Something on record that cannot be, or cannot be together, and what to find out. It counts as no evidence. */
export interface RecordQuestion extends Said<RecordQuestionCode> {
  readonly kind: QuestionKind
  /** The fitting, anode, pair or berth in question by name; `null` is the bonded hull. */
  readonly about: string | null
  /** Day number of the record; `null` of what has no day. */
  readonly on: number | null
}
