import { normalQuantile } from '../statistics/distributions/normal.js'
import { wilsonInterval } from '../statistics/proportion.js'
import { HORIZONS, horizonOf } from './horizons.js'
import type { ForecastScore } from './score-forecast.js'

/** A score with what its forecast was made of and for. */
export interface JudgedScore extends ForecastScore {
  /** The weighing that judged: one judges a forecast for each horizon. */
  readonly weighing: string
  readonly horizonDays: number
  readonly water: string | null
  readonly alloy: string | null
  /** Whether the forecast was made after the event, from what was known on its day. */
  readonly hindsight: boolean
}

/** The share of the weighings that lay within the intervals of a level, with the interval for that share. */
export interface Coverage {
  readonly level: number
  readonly share: number | null
  readonly low: number | null
  readonly high: number | null
}

/** How the forecasts of a group did. `null` where none was judged. */
export interface ScoreSummary {
  readonly scored: number
  readonly coverage: readonly Coverage[]
  /** Mean normal score: 0 without bias, above 0 where more was lost than forecast. */
  readonly meanScore: number | null
  /** Median loss beyond the middle one forecast [g]: a mean would be that of a few faults on large anodes. */
  readonly biasG: number | null
  /** Median of the days in the water by which the wear was ahead of the middle forecast [d]. */
  readonly biasDays: number | null
  /** Mean continuous ranked probability score of the net mass [g]. */
  readonly crpsG: number | null
}

export interface GroupScore extends ScoreSummary {
  readonly group: string
}

/** How often a loss fell between two successive deciles of its forecast: a tenth of them should. */
export interface ReliabilityBin {
  readonly from: number
  readonly to: number
  readonly count: number
  readonly share: number | null
  readonly low: number | null
  readonly high: number | null
}

/** How past forecasts of the mass did when the anodes were weighed. */
export interface Calibration extends ScoreSummary {
  readonly weighings: number
  /** How many of the forecasts judged were made after the event, from what was known on their day. */
  readonly hindsight: number
  readonly byHorizon: readonly GroupScore[]
  readonly byWater: readonly GroupScore[]
  readonly byAlloy: readonly GroupScore[]
  readonly reliability: readonly ReliabilityBin[]
}

/** The intervals that people are told of: the half, from p10 to p90, from p05 to p95. */
const LEVELS = [0.5, 0.8, 0.9] as const
/** Of the intervals for shares. Convention. */
const SHARE_LEVEL = 0.9
const BINS = 10
/** A probability that rounds to 0 or 1 is this far out at most. */
const LARGEST_SCORE = 8
const UNRECORDED = 'unrecorded'

/** Puts the scores of past forecasts together, over all and by horizon, water and alloy. */
export function calibrationOf(scores: readonly JudgedScore[]): Calibration {
  return {
    ...summaryOf(scores),
    weighings: new Set(scores.map(({ weighing }) => weighing)).size,
    hindsight: scores.filter(({ hindsight }) => hindsight).length,
    byHorizon: HORIZONS.map(({ group }) => ({
      group,
      ...summaryOf(scores.filter(({ horizonDays }) => horizonOf(horizonDays)?.group === group)),
    })),
    byWater: groupsOf(scores, ({ water }) => water ?? UNRECORDED),
    byAlloy: groupsOf(scores, ({ alloy }) => alloy ?? UNRECORDED),
    reliability: reliabilityOf(scores),
  }
}

function groupsOf(scores: readonly JudgedScore[], groupOf: (score: JudgedScore) => string): GroupScore[] {
  return [...new Set(scores.map(groupOf))]
    .sort()
    .map((group) => ({ group, ...summaryOf(scores.filter((score) => groupOf(score) === group)) }))
}

function summaryOf(scores: readonly ForecastScore[]): ScoreSummary {
  return {
    scored: scores.length,
    coverage: LEVELS.map((level) => {
      const inside = scores.filter(({ transform }) => Math.abs(transform - 0.5) <= level / 2).length
      return { level, ...shareOf(inside, scores.length) }
    }),
    meanScore: mean(scores.map(({ transform }) => normalScore(transform))),
    biasG: median(scores.map(({ moreLostG }) => moreLostG)),
    biasDays: median(scores.map(({ aheadDays }) => aheadDays)),
    crpsG: mean(scores.map(({ crpsG }) => crpsG)),
  }
}

function reliabilityOf(scores: readonly ForecastScore[]): ReliabilityBin[] {
  const counts = new Array<number>(BINS).fill(0)
  for (const { transform } of scores) {
    const bin = Math.min(BINS - 1, Math.floor(transform * BINS))
    counts[bin] = counts[bin]! + 1
  }
  return counts.map((count, bin) => ({
    from: bin / BINS,
    to: (bin + 1) / BINS,
    count,
    ...shareOf(count, scores.length),
  }))
}

function shareOf(count: number, trials: number) {
  if (trials === 0) return { share: null, low: null, high: null }
  return { share: count / trials, ...wilsonInterval(count, trials, SHARE_LEVEL) }
}

function normalScore(transform: number): number {
  if (transform <= 0) return -LARGEST_SCORE
  if (transform >= 1) return LARGEST_SCORE
  return Math.max(-LARGEST_SCORE, Math.min(LARGEST_SCORE, normalQuantile(transform)))
}

function mean(values: readonly number[]): number | null {
  return values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length
}

function median(values: readonly number[]): number | null {
  const ordered = [...values].sort((a, b) => a - b)
  const upper = ordered[ordered.length >> 1]
  const lower = ordered[(ordered.length - 1) >> 1]
  return upper === undefined || lower === undefined ? null : (lower + upper) / 2
}
