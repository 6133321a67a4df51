import type { Forecast } from '../../api/forecasts.js'
import { sayPercent } from '../../wording/amounts.js'
import { sayDay } from '../../wording/days.js'
import { t } from './boat-words.js'

/** The sentence that stands for the drawing: when the anode is expected at its threshold, and how surely. */
export function sayForecast({ replace, threshold, asOf }: Forecast): string {
  const due = { threshold: sayPercent(threshold) }
  if (replace.p95 !== null && replace.p95 <= asOf) return t('forecast.reached', due)
  if (replace.p50 === null) {
    return replace.p05 === null ? t('forecast.never', due) : t('forecast.may', { ...due, from: sayDay(replace.p05) })
  }
  const from = sayDay(replace.p05 ?? replace.p50)
  const span =
    replace.p95 === null ? t('forecast.from', { from }) : t('forecast.between', { from, to: sayDay(replace.p95) })
  return t(replace.p50 <= asOf ? 'forecast.already' : 'forecast.expected', { ...due, day: sayDay(replace.p50), span })
}

/** What a forecast rests on, the largest share first, as a sentence. */
export function sayBasis(basis: Forecast['basis']): string {
  const parts = (['anode', 'boat', 'fleet', 'physics'] as const)
    .map((source) => ({ source, share: basis[source] ?? 0 }))
    .filter(({ share }) => share >= 0.005)
    .toSorted((a, b) => b.share - a.share)
  return parts.map(({ source, share }) => t(`restsPart.${source}`, { share: sayPercent(share) })).join(', ')
}

/** Below this an interval stands out, as the service counts it: for less than half. */
const STANDS_OUT_BELOW = 0.5

/** A note on a weighing whose loss the rates hardly count; nothing on all others. @example sayWeight(0.2) // 'counted at 20 %: stands out' */
export function sayWeight(weight: number | null): string {
  return weight !== null && weight < STANDS_OUT_BELOW ? t('counted', { share: sayPercent(weight) }) : ''
}
