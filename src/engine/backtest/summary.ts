import { normalQuantile } from '../statistics/distributions/normal.js'
import type { LifeScore, OriginScores, Scored, WeighingScore } from './backtest.js'

/** How the forecasts of a group did. `null` where it has nothing to say. */
export interface GroupScore {
  readonly group: string
  readonly weighings: number
  /** Share of the weighings between p10 and p90, and between p05 and p95. */
  readonly inside80: number | null
  readonly inside90: number | null
  /** Mean normal score of the loss: 0 without bias, above 0 where more was lost than forecast. */
  readonly bias: number | null
  /** Mean ranked probability score of the net mass, in shares of the mass when new. */
  readonly crps: number | null
  /** The same of the straight line, of the robust one and of the one-year rule: their mean absolute error. */
  readonly lineCrps: number | null
  readonly robustCrps: number | null
  readonly ruleCrps: number | null
  readonly lives: number
  /** Median of |log(forecast/true remaining life)|. */
  readonly lifeError: number | null
  readonly lineLifeError: number | null
  readonly robustLifeError: number | null
  readonly ruleLifeError: number | null
}

export interface BacktestReport {
  readonly origins: readonly number[]
  readonly overall: GroupScore
  readonly byHistory: readonly GroupScore[]
  readonly byHorizon: readonly GroupScore[]
  readonly byWater: readonly GroupScore[]
  readonly byAlloy: readonly GroupScore[]
}

/** Ends of the horizons that scores are told for [d]. Convention: from half a year, by doubling. */
const HORIZON_ENDS = [180, 365, 730] as const
/** A probability that rounds to 0 or 1 is this far out at most. */
const LARGEST_SCORE = 8

/** Puts the scores of all origins together, over all and by kind. */
export function backtestReport(scores: readonly OriginScores[]): BacktestReport {
  const all = {
    weighings: scores.flatMap(({ weighings }) => weighings),
    lives: scores.flatMap(({ lives }) => lives),
  }
  const by = (groupOf: (scored: Scored) => string) => groupScores(all, groupOf)
  return {
    origins: scores.map(({ origin }) => origin),
    overall: scoreOf('all', all.weighings, all.lives),
    byHistory: by(({ isWeighed }) => (isWeighed ? 'weighed before' : 'never weighed')),
    byHorizon: HORIZONS.map(({ group, from, to }) =>
      scoreOf(
        group,
        all.weighings.filter(({ horizonDays }) => horizonDays > from && horizonDays <= to),
        all.lives.filter(({ lifeDays }) => lifeDays > from && lifeDays <= to),
      ),
    ),
    byWater: by(({ water }) => water ?? 'unrecorded'),
    byAlloy: by(({ alloy }) => alloy ?? 'unknown'),
  }
}

const HORIZONS = [...HORIZON_ENDS, Infinity].map((to, index) => {
  const from = HORIZON_ENDS[index - 1] ?? 0
  return { from, to, group: to === Infinity ? `over ${from} d` : `${from}–${to} d` }
})

interface Scores {
  readonly weighings: readonly WeighingScore[]
  readonly lives: readonly LifeScore[]
}

function groupScores({ weighings, lives }: Scores, groupOf: (scored: Scored) => string): GroupScore[] {
  const groups = [...new Set([...weighings, ...lives].map(groupOf))].sort()
  return groups.map((group) => {
    const isOfGroup = (scored: Scored) => groupOf(scored) === group
    return scoreOf(group, weighings.filter(isOfGroup), lives.filter(isOfGroup))
  })
}

function scoreOf(group: string, weighings: readonly WeighingScore[], lives: readonly LifeScore[]): GroupScore {
  const inside = (level: number) => mean(weighings.map(({ model }) => (isInside(model.transform, level) ? 1 : 0)))
  const errorOf = (of: (score: LifeScore) => number) => medianOf(lives.map((score) => Math.abs(of(score))))
  return {
    group,
    weighings: weighings.length,
    inside80: inside(0.8),
    inside90: inside(0.9),
    bias: mean(weighings.map(({ model }) => normalScore(model.transform))),
    crps: mean(weighings.map(({ model, newG }) => model.crpsG / newG)),
    lineCrps: mean(weighings.map(({ lineErrorG, newG }) => lineErrorG / newG)),
    robustCrps: mean(weighings.map(({ robustErrorG, newG }) => robustErrorG / newG)),
    ruleCrps: mean(weighings.map(({ ruleErrorG, newG }) => ruleErrorG / newG)),
    lives: lives.length,
    lifeError: errorOf(({ modelLogError }) => modelLogError),
    lineLifeError: errorOf(({ lineLogError }) => lineLogError),
    robustLifeError: errorOf(({ robustLogError }) => robustLogError),
    ruleLifeError: errorOf(({ ruleLogError }) => ruleLogError),
  }
}

function isInside(transform: number, level: number): boolean {
  return Math.abs(transform - 0.5) <= level / 2
}

function normalScore(transform: number): number {
  if (transform <= 0) return -LARGEST_SCORE
  if (transform >= 1) return LARGEST_SCORE
  return Math.max(-LARGEST_SCORE, Math.min(LARGEST_SCORE, normalQuantile(transform)))
}

function mean(values: readonly number[]): number | null {
  return values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length
}

function medianOf(values: readonly number[]): number | null {
  const ordered = [...values].sort((a, b) => a - b)
  const upper = ordered[ordered.length >> 1]
  const lower = ordered[(ordered.length - 1) >> 1]
  return upper === undefined || lower === undefined ? null : (lower + upper) / 2
}
