import type { Said } from '../said.js'
import type { Anomaly } from './anomaly.js'
import type { Cause } from './causes.js'
import type { EvidenceCode } from './evidence/evidence-codes.js'
import type { RecordQuestionCode } from './evidence/question-codes.js'

/** One piece of evidence as it bears on one cause: the sentence that tells it, and its weight. */
export interface WeighedEvidence extends Said<EvidenceCode> {
  /** Key of the observation in the tables of evidence. */
  readonly observation: string
  /** Weight of evidence for this cause against the others together: log of the likelihood ratio [nat]; below 0 speaks against. */
  readonly weight: number
}

export interface RankedCause {
  readonly cause: Cause
  readonly probability: number
  readonly evidence: readonly WeighedEvidence[]
}

/** A measurement or a look that a yard can make, and what each outcome would mean. */
export interface NextCheck {
  /** Key in the table of checks. */
  readonly check: string
  readonly title: string
  readonly how: readonly string[]
  /** Expected drop in the entropy of the causes [nat]. */
  readonly expectedGain: number
  readonly outcomes: readonly CheckOutcome[]
  readonly cautions: readonly string[]
}

export interface CheckOutcome {
  readonly outcome: string
  readonly text: string
  /** Probability of the outcome as things stand. */
  readonly probability: number
  /** What it would make of the causes, the likeliest first. */
  readonly would: readonly { readonly cause: Cause; readonly probability: number }[]
}

/** What somebody found when making a check: evidence like the rest. */
export interface RecordedCheck {
  readonly check: string
  readonly outcome: string
  readonly on: number
}

/** A question about the record of a boat; `null`: about a berth. */
export interface AskedQuestion extends Said<RecordQuestionCode> {
  readonly boat: string | null
}

/** An anomaly with what may lie behind it. */
export interface Diagnosis {
  readonly anomaly: Anomaly
  /** By falling probability; they add to 1. */
  readonly causes: readonly RankedCause[]
  readonly nextCheck: NextCheck | null
  /** Readings that contradict themselves or each other; such readings count for nothing. */
  readonly questions: readonly AskedQuestion[]
  /** Cautions that must be shown with it. */
  readonly safety: readonly string[]
}
