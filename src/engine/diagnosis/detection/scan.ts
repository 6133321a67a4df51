import { normalCdf } from '../../statistics/distributions/normal.js'
import { SAME_LIFT_DAYS } from '../same-lift.js'
import type { JudgedLoss } from './judged-losses.js'
import { type PanelView, type ShiftEvidence, scoreOf } from './panel.js'

/** A stretch of time over which wear may have been other than usual. Day numbers. */
export interface Stretch {
  readonly from: number
  readonly to: number
  /** Every loss there is lies in it. */
  readonly isWhole: boolean
  /** No weighing lies between its ends. */
  readonly isSingle: boolean
  /** Its share of the probability of a false alarm, in (0, 1]: those of a group add to 1. */
  readonly weight: number
}

export interface ScoredStretch {
  readonly stretch: Stretch
  readonly evidence: ShiftEvidence
  /** Standard normal score of the shift: above 0 is faster. */
  readonly score: number
}

/**
 * What has been so all along, what goes on, what was so of one anode from its fitting to its removal, what began and ended otherwise, and
 * what was so at first only: how a false alarm may arise. The last is rare, for it looks like its opposite, something that began since and
 * goes on; but a first anode that was bad by itself was cured by its successor. Convention.
 */
const WEIGHT = { whole: 0.2, lasting: 0.43, life: 0.1, ended: 0.25, opening: 0.02 } as const
/** Over long records, stretches that ended are looked at up to this many lifts, longer ones only where they go on. Convention. */
const LONGEST_ENDED = 8

/** The stretches between lifts that a group of losses can tell apart. */
export function stretchesOf(losses: readonly JudgedLoss[]): Stretch[] {
  return stretchesBetween(liftDays(losses), livesOf(losses))
}

type Span = Pick<Stretch, 'from' | 'to'>

/** From an anode's first weighing to its last, where the anodes followed one another at one place; none of several places. */
function livesOf(losses: readonly JudgedLoss[]): Span[] {
  const lives = new Map<string, { from: number; to: number }>()
  for (const { anode, from, to } of losses) {
    const life = lives.get(anode)
    if (life === undefined) lives.set(anode, { from, to })
    else Object.assign(life, { from: Math.min(life.from, from), to: Math.max(life.to, to) })
  }
  const spans = [...lives.values()].sort((a, b) => a.from - b.from)
  const isOnePlace = spans.every(({ from }, at) => at === 0 || spans[at - 1]!.to - from <= SAME_LIFT_DAYS)
  return isOnePlace ? spans : []
}

/**
 * Every stretch from one of some days to a later one.
 *
 * @param ends ascending
 * @param lives of single anodes of one place
 */
export function stretchesBetween(ends: readonly number[], lives: readonly Span[] = []): Stretch[] {
  const lifts = ends.length - 1
  const stretches: Omit<Stretch, 'weight'>[] = []
  for (let from = 0; from < lifts; from++) {
    for (let to = from + 1; to <= lifts; to++) {
      if (to < lifts && to - from > LONGEST_ENDED) continue
      stretches.push({
        from: ends[from]!,
        to: ends[to]!,
        isWhole: from === 0 && to === lifts,
        isSingle: to === from + 1,
      })
    }
  }
  const last = ends.at(-1)
  const kindOf = ({ from, to, isWhole }: Omit<Stretch, 'weight'>) => {
    if (isWhole) return 'whole'
    if (to === last) return 'lasting'
    if (lives.some((life) => isSameLift(life.from, from) && isSameLift(life.to, to))) return 'life'
    return from === ends[0] ? 'opening' : 'ended'
  }
  const counts = new Map<keyof typeof WEIGHT, number>()
  for (const stretch of stretches) counts.set(kindOf(stretch), (counts.get(kindOf(stretch)) ?? 0) + 1)
  const total = [...counts.keys()].reduce((sum, kind) => sum + WEIGHT[kind], 0)
  return stretches.map((stretch) => {
    const kind = kindOf(stretch)
    return { ...stretch, weight: WEIGHT[kind] / total / counts.get(kind)! }
  })
}

const isSameLift = (one: number, other: number) => Math.abs(one - other) <= SAME_LIFT_DAYS

function liftDays(losses: readonly JudgedLoss[]): number[] {
  const days = [...new Set(losses.flatMap(({ from, to }) => [from, to]))].sort((a, b) => a - b)
  const kept: number[] = []
  for (const day of days) {
    const last = kept.at(-1)
    if (last === undefined || day - last > SAME_LIFT_DAYS) kept.push(day)
    // Losses reach to the later of two days: the first lift begins early, the others end late.
    else if (kept.length > 1) kept[kept.length - 1] = day
  }
  if (kept.length === 1) kept.push(days.at(-1)!)
  return kept
}

/** Share of the days of a loss that lie in a stretch. */
export function shareIn({ from, to }: Pick<JudgedLoss, 'from' | 'to'>, stretch: Pick<Stretch, 'from' | 'to'>): number {
  const days = Math.min(to, stretch.to) - Math.max(from, stretch.from)
  return days <= 0 ? 0 : Math.min(1, days / (to - from))
}

/** How strongly each stretch speaks of a shift. */
export function scan(view: PanelView, stretches: readonly Stretch[]): ScoredStretch[] {
  const losses = view.kept.map((i) => view.panel.losses[i]!)
  return stretches.flatMap((stretch) => {
    const pattern = losses.map((loss) => shareIn(loss, stretch))
    if (!pattern.some((share) => share > LEAST_SHARE)) return []
    const evidence = view.evidence(pattern)
    return [{ stretch, evidence, score: scoreOf(evidence) }]
  })
}

/** A loss of which less lies in a stretch says next to nothing of it. Convention. */
const LEAST_SHARE = 0.25

/** Two-sided p-value of a stretch, as one of its group's. */
export function pValueOf({ stretch, score }: ScoredStretch, scale: number): number {
  return Math.min(1, (2 * normalCdf(-Math.abs(score) / scale)) / stretch.weight)
}
