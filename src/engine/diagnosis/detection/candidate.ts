import type { Scope } from '../anomaly.js'
import type { JudgedLoss } from './judged-losses.js'
import type { PanelView, ShiftEvidence } from './panel.js'
import type { Stretch } from './scan.js'

/** A group of losses as it is searched: what is left of its panel once explained losses are taken out. */
export interface CandidatePart {
  readonly view: PanelView
  /** By loss kept: its share of a shift in force from the first day of the record on. */
  readonly memberShares: readonly number[]
}

/** The stretch of a group that is least likely by chance. */
export interface Candidate {
  readonly scope: Scope
  readonly boat: string | null
  readonly berth: string | null
  readonly pontoon: string | null
  readonly stretch: Stretch
  readonly evidence: ShiftEvidence
  /** Score on the scale of ordinary ones. */
  readonly score: number
  /** Small surprises over successive lifts add up to a signal there. */
  readonly isDrift: boolean
  /** Two-sided, counted once for its group. */
  readonly p: number
  readonly parts: readonly CandidatePart[]
  /** The losses that the shift explains. */
  readonly losses: readonly JudgedLoss[]
}

export const directionOf = ({ score }: Pick<Candidate, 'score'>) => (score > 0 ? ('fast' as const) : ('slow' as const))
