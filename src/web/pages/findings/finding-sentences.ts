import type { Finding } from '../../api/findings.js'
import { sayRatio } from '../../wording/amounts.js'
import { sayDay, saySpan } from '../../wording/days.js'
import { sayCause, sayLikelihood } from '../../wording/finding-words.js'
import { sayNumber } from '../../wording/locale.js'
import { t } from './findings-words.js'

/** Which a finding is about, before what happens there: whoever reads a list looks for this first. */
export function saySubject({ scope, boat, berth, pontoon }: Finding): string {
  if (scope === 'pontoon') return t('subject.pontoon', { name: pontoon ?? t('subject.notRecorded') })
  if (scope === 'berth') return t('subject.berth', { name: berth ?? t('subject.notRecorded') })
  return boat ?? t('subject.noBoat')
}

/** What happens there, in one plain line. @example sayWhat(finding) // 'its anodes waste fast together' */
export function sayWhat(finding: Finding): string {
  const { scope, direction, anode, anodes } = finding
  const boats = new Set(anodes.map(({ boat }) => boat)).size
  if (direction === 'other') {
    return scope === 'anode' && anode !== null ? t('what.anodeOther', { anode }) : t('what.other')
  }
  if (scope === 'anode') return t(`what.anode.${direction}`, { anode: anode ?? t('what.anAnode') })
  if (scope === 'boat') return t(`what.boat.${direction}`)
  return boats < 2 ? t(`what.here.${direction}`) : t(`what.boats.${direction}`, { number: boats })
}

/** Both in a sentence. @example sayFinding(finding) // 'Second Kettle: its anodes waste fast together' */
export function sayFinding(finding: Finding): string {
  return `${saySubject(finding)}: ${sayWhat(finding)}`
}

/** Where to look for it; what the subject says already is left out. */
export function sayWhere({ scope, berth, pontoon }: Finding): string {
  const names = [
    scope === 'anode' || scope === 'boat' ? berth && t('where', { name: berth }) : null,
    scope !== 'pontoon' && pontoon,
  ]
  return names.filter(Boolean).join(', ')
}

export function saySince({ onset, since }: Finding): string {
  return onset === null ? t('sinceFirst', { day: sayDay(since) }) : t('sinceAbout', { day: sayDay(onset.p50) })
}

/** The span in which it began, 8 times in 10. */
export function sayOnsetSpan({ onset }: Finding): string | null {
  return onset === null || onset.p10 === onset.p90 ? null : saySpan(onset.p10, onset.p90)
}

/** Standard normal quantile of 0.9: the rates are given with intervals that hold 8 of 10. */
const Q90 = 1.2815515594457
export interface RateSpan {
  readonly mean: number
  readonly low: number
  readonly high: number
}

/** Log of the rate over the one expected, with the interval that holds 8 of 10; null where no rate was judged. */
export function rateSpanOf({ logRatio }: Pick<Finding, 'logRatio'>): RateSpan | null {
  if (logRatio === null) return null
  const { mean, sd } = logRatio
  return { mean, low: mean - Q90 * sd, high: mean + Q90 * sd }
}

/** @example sayRate({ logRatio: { mean: Math.log(4.6), sd: 0.2 } }) // '4.6 times the rate expected' */
export function sayRate(finding: Pick<Finding, 'logRatio'>): string {
  const span = rateSpanOf(finding)
  return span === null ? t('notByRate') : sayRatio(span.mean)
}

/**
 * The interval, in the same terms as the rate itself; null where none is known or both ends are the same figure.
 *
 * @example sayRateSpan({ logRatio: { mean: Math.log(4.6), sd: 0.2 } }) // 'between 3.6 and 5.9 times'
 */
export function sayRateSpan(finding: Pick<Finding, 'logRatio'>): string | null {
  const span = rateSpanOf(finding)
  if (span === null) return null
  const ratios = [Math.exp(span.low), Math.exp(span.high)]
  const isSlow = ratios.every((ratio) => ratio < 1)
  const [low, high] = ratios.map((ratio) => (isSlow ? percentOf(ratio) : sayNumber(ratio, 1)))
  return low === high ? null : t(isSlow ? 'between.percent' : 'between.times', { low, high })
}

const percentOf = (ratio: number) => (ratio < 0.1 ? sayNumber(ratio * 100, 1) : String(Math.round(ratio * 100)))

export function sayNoticed({ noticedBy }: Finding): string {
  return t(`noticed.${noticedBy}`)
}

/** The cause to name: the one confirmed, else the likeliest. */
export function sayLikeliest({ causes, confirmedCause }: Finding): { cause: string; how: string } | null {
  if (confirmedCause !== null) return { cause: sayCause(confirmedCause), how: t('confirmed') }
  const [first] = causes
  if (first === undefined) return null
  return { cause: sayCause(first.cause), how: sayLikelihood(first.probability) }
}
