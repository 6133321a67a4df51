import { median, medianSorted } from 'simple-statistics'
import { OutOfRange } from '../errors.js'
import { normalQuantile } from './distributions/normal.js'
import { checkLinePoints, type XY } from './line-points.js'
import type { RobustLine } from './robust-line.js'

/** A Theil–Sen line with an interval for its slope. */
export interface MedianLine extends RobustLine {
  /** Ends of the interval for the slope. */
  readonly slopeLimits: readonly [number, number]
}

/**
 * The median of the slopes between all pairs of points at different x, through the median of what is left: up to 29 % of the
 * points may be wrong. The slope's interval is Sen's, by the ranks of Kendall's statistic, ties counted.
 *
 * @param points two or more, at two different x at least, finite
 * @param level of the interval, between 0 and 1
 * @throws OutOfRange outside those ranges
 *
 * Source: Sen, J. Am. Stat. Assoc. 63 (1968) 1379–1389.
 */
export function theilSenLine(points: readonly XY[], level: number): MedianLine {
  if (!(level > 0 && level < 1)) throw new OutOfRange('confidence level', level, 'between 0 and 1')
  checkLinePoints(points, 2)
  const slopes = pairwiseSlopes(points)
  const slope = medianSorted(slopes)
  const z = -normalQuantile((1 - level) / 2)
  const reach = z * Math.sqrt(kendallVariance(points))
  const last = slopes.length - 1
  const low = Math.max(Math.round((slopes.length - reach) / 2) - 1, 0)
  const high = Math.min(Math.round((slopes.length + reach) / 2), last)
  return { intercept: interceptOf(points, slope), slope, slopeLimits: [slopes[low]!, slopes[high]!] }
}

/**
 * Repeated medians: for each point the median of its slopes to all others, of those the median. Half of the points may be wrong.
 *
 * Source: Siegel, Biometrika 69 (1982) 242–244.
 */
export function repeatedMedianLine(points: readonly XY[]): RobustLine {
  checkLinePoints(points, 2)
  const slope = median(points.flatMap((point) => medianOrNone(slopesFrom(point, points))))
  return { intercept: interceptOf(points, slope), slope }
}

const medianOrNone = (values: number[]): number[] => (values.length === 0 ? [] : [median(values)])

function slopesFrom(from: XY, points: readonly XY[]): number[] {
  return points.flatMap(({ x, y }) => (x === from.x ? [] : [(y - from.y) / (x - from.x)]))
}

function pairwiseSlopes(points: readonly XY[]): number[] {
  return points.flatMap((point, i) => slopesFrom(point, points.slice(i + 1))).sort((a, b) => a - b)
}

function interceptOf(points: readonly XY[], slope: number): number {
  return median(points.map(({ x, y }) => y - slope * x))
}

/** Of Kendall's statistic, with ties of x and of y. */
function kendallVariance(points: readonly XY[]): number {
  const n = points.length
  const term = (k: number) => k * (k - 1) * (2 * k + 5)
  const tied = (values: readonly number[]) => {
    const counts = new Map<number, number>()
    for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1)
    return [...counts.values()].reduce((sum, count) => sum + term(count), 0)
  }
  return (term(n) - tied(points.map(({ x }) => x)) - tied(points.map(({ y }) => y))) / 18
}
