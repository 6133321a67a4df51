import type { Forecast } from '../../api/forecasts.js'
import { sayPercent } from '../../wording/amounts.js'
import { sayDay } from '../../wording/days.js'

/** The sentence that stands for the drawing: when the anode is expected at its threshold, and how surely. */
export function sayForecast({ replace, threshold, asOf }: Forecast): string {
  const due = `its ${sayPercent(threshold)} threshold`
  if (replace.p95 !== null && replace.p95 <= asOf) return `It has reached ${due}: replace it at once.`
  if (replace.p50 === null) {
    return replace.p05 === null
      ? `Not expected to reach ${due} within 30 years.`
      : `May reach ${due} from ${sayDay(replace.p05)} on, more likely not within 30 years.`
  }
  const early = replace.p05 ?? replace.p50
  const span = replace.p95 === null ? `from ${sayDay(early)} on` : `between ${sayDay(early)} and ${sayDay(replace.p95)}`
  if (replace.p50 <= asOf)
    return `Has probably reached ${due} already, around ${sayDay(replace.p50)}; 9 times in 10 ${span}.`
  return `Expected to reach ${due} around ${sayDay(replace.p50)}; 9 times in 10 ${span}.`
}

const BASIS_WORDS = {
  anode: 'this anode’s own weighings',
  boat: 'this boat’s other anodes',
  fleet: 'the rest of the fleet',
  physics: 'what physics expects of such a boat',
} as const

/** What a forecast rests on, the largest share first, as a sentence. */
export function sayBasis(basis: Forecast['basis']): string {
  const parts = (['anode', 'boat', 'fleet', 'physics'] as const)
    .map((source) => ({ words: BASIS_WORDS[source], share: basis[source] ?? 0 }))
    .filter(({ share }) => share >= 0.005)
    .toSorted((a, b) => b.share - a.share)
  return parts.map(({ words, share }) => `${sayPercent(share)} on ${words}`).join(', ')
}

/** Below this an interval stands out, as the service counts it: for less than half. */
const STANDS_OUT_BELOW = 0.5

/** A note on a weighing whose loss the rates hardly count; nothing on all others. @example sayWeight(0.2) // 'counted at 20 %: stands out' */
export function sayWeight(weight: number | null): string {
  return weight !== null && weight < STANDS_OUT_BELOW ? `counted at ${sayPercent(weight)}: stands out` : ''
}
