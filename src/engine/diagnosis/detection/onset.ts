import type { RateModel } from '../../rates/rate-model.js'
import type { Anomaly } from '../anomaly.js'
import { SAME_LIFT_DAYS } from '../same-lift.js'
import type { Candidate, CandidatePart } from './candidate.js'
import type { JudgedLoss } from './judged-losses.js'

/** What of a model says how exposed each day was. */
type Calendars = { readonly boats: readonly Pick<RateModel['boats'][number], 'calendar'>[] }

/** When a shift began, and how large it is since. */
export interface DatedShift {
  readonly onset: Anomaly['onset']
  readonly logRatio: NonNullable<Anomaly['logRatio']>
}

/** Days of the grid over which the beginning is sought, and sizes of the shift. Convention. */
const DAYS_TRIED = 25
const SIZES_TRIED = 31
/** Logs of the factors that faults are believed to have beforehand, either way: from none to a hundredfold. Convention. */
const LARGEST_LOG_RATIO = 4.6
const LOG_RATIO_SD = 1.5
/**
 * Dates the beginning of a shift by the likelihood of each day and size together. A change within an interval dilutes: with the
 * share s of the exposure after the day T, the loss changes by
 *
 *     log(1 + s(T)·(e^δ − 1))
 *
 * The day is believed to be any from two lifts before the beginning of the stretch to two lifts after it, the size a normal of
 * `LOG_RATIO_SD` on the side of the score. What is reported are quantiles of the day, its size integrated out.
 */
export function dateShift(model: Calendars, candidate: Candidate): DatedShift {
  const days = daysTried(candidate)
  const sizes = sizesTried(candidate)
  const founds = candidate.parts.map(foundIn)
  const logs = days.map((day) => {
    const shares = candidate.parts.map((part) => sharesSince(model, part, day, candidate.stretch.to))
    return sizes.map((size) => logPosterior(candidate, founds, shares, size))
  })
  const largest = Math.max(...logs.flat())
  const weights = logs.map((row) => row.map((log) => Math.exp(log - largest)))
  const total = weights.flat().reduce((sum, weight) => sum + weight, 0)
  const byDay = weights.map((row) => row.reduce((sum, weight) => sum + weight, 0) / total)
  const bySize = sizes.map((_, s) => weights.reduce((sum, row) => sum + row[s]!, 0) / total)
  const mean = sizes.reduce((sum, size, s) => sum + size * bySize[s]!, 0)
  const variance = sizes.reduce((sum, size, s) => sum + (size - mean) ** 2 * bySize[s]!, 0)
  // A size between two of the grid counts as evenly spread: step²/12.
  const step = LARGEST_LOG_RATIO / SIZES_TRIED
  const logRatio = { mean, sd: Math.sqrt(variance + step ** 2 / 12) }
  if (days.length === 1) return { onset: null, logRatio }
  const at = (share: number) => quantileOf(days, byDay, share)
  return { onset: { p10: at(0.1), p50: at(0.5), p90: at(0.9) }, logRatio }
}

/** Lifts either side of where a stretch begins at which it may have begun too: noise moves the likeliest one. Convention. */
const LIFTS_AWAY = 2

/** The lift so many lifts on, or the last one there is; weighings of one lift count as one. @param sign −1 for back in time */
function awayFrom(days: readonly number[], sign: -1 | 1): number {
  const ordered = [...days].sort((a, b) => sign * (a - b))
  const lifts = ordered.filter((day, k) => k === 0 || Math.abs(day - ordered[k - 1]!) > SAME_LIFT_DAYS)
  return lifts[Math.min(LIFTS_AWAY, lifts.length) - 1] ?? sign * Infinity
}

/** Only its first day where it was so from the beginning of the record. */
function daysTried({ stretch, parts }: Candidate): number[] {
  const losses = parts.flatMap(({ view }) => view.panel.losses)
  const ends = [...new Set(losses.flatMap(({ from, to }) => [from, to]))]
  const earlier = ends.filter((day) => day < stretch.from - SAME_LIFT_DAYS)
  if (stretch.isWhole || earlier.length === 0) return [stretch.from]
  const later = ends.filter((day) => day > stretch.from + SAME_LIFT_DAYS)
  const low = awayFrom(earlier, -1)
  const high = Math.min(stretch.to, awayFrom(later, 1))
  return Array.from({ length: DAYS_TRIED }, (_, k) => low + ((high - low) * k) / (DAYS_TRIED - 1))
}

function sizesTried({ score }: Candidate): number[] {
  const sign = score > 0 ? 1 : -1
  return Array.from({ length: SIZES_TRIED }, (_, k) => (sign * LARGEST_LOG_RATIO * (k + 0.5)) / SIZES_TRIED)
}

/** Logs of what was found over what was expected; a loss within its error is no smaller than half of that. */
function foundIn({ view }: CandidatePart): Float64Array {
  return Float64Array.from(view.kept, (i) => {
    const { consumption, errorVariance, isSpent } = view.panel.losses[i]!
    const least = Math.max(0.5 * Math.sqrt(errorVariance), view.panel.expected[i]! * Math.exp(-LARGEST_LOG_RATIO))
    const found = Math.log(Math.max(consumption, least) / view.panel.expected[i]!)
    return isSpent ? Math.max(0, found) : found
  })
}

/** By loss kept: the share of its exposure that lies in [from, to) and takes part. */
function sharesSince(model: Calendars, { view, memberShares }: CandidatePart, from: number, to: number): Float64Array {
  return Float64Array.from(view.kept, (i, a) => {
    const loss = view.panel.losses[i]!
    return memberShares[a]! * exposureShare(model, loss, Math.max(from, loss.from), Math.min(to, loss.to))
  })
}

function exposureShare(model: Calendars, loss: JudgedLoss, from: number, to: number): number {
  if (to <= from) return 0
  if (from === loss.from && to === loss.to) return 1
  const { calendar } = model.boats[loss.boatIndex]!
  return Math.min(1, calendar.between(from, to).days / loss.exposureDays)
}

function logPosterior(
  { parts }: Candidate,
  founds: readonly Float64Array[],
  shares: readonly Float64Array[],
  size: number,
): number {
  const factor = Math.exp(size) - 1
  return parts.reduce(
    (sum, { view }, p) => {
      const pattern = shares[p]!.map((share) => Math.log(1 + share * factor))
      return sum - view.distance(founds[p]!, pattern) / 2
    },
    -(size ** 2) / (2 * LOG_RATIO_SD ** 2),
  )
}

/** Quantile of a day whose probability is spread evenly about each grid day. */
function quantileOf(days: readonly number[], shares: readonly number[], probability: number): number {
  const step = days[1]! - days[0]!
  let before = 0
  for (let k = 0; k < days.length; k++) {
    const share = shares[k]!
    if (before + share >= probability) {
      const day = days[k]! + step * ((probability - before) / share - 0.5)
      return Math.max(days[0]!, Math.min(days.at(-1)!, day))
    }
    before += share
  }
  return days.at(-1)!
}
