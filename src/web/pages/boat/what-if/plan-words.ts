import type { PlannedAnode } from '../../../api/what-if.js'
import { latest, sayDay, sayGap } from '../../../wording/days.js'
import { axisUntil, type DateAxis } from '../../fleet/date-axis.js'
import { t } from '../boat-words.js'

/** Sorts behind every date: not within 30 years. */
const NEVER = '9999-12-31'

/**
 * How a plan moves a date.
 *
 * @param now the date as things stand, null beyond 30 years
 * @param planned the date as planned, null beyond 30 years
 * @param asOf today: no plan moves what lies behind it
 * @example sayShift('2031-04-18', '2031-05-11', '2031-01-01') // '23 days later'
 */
export function sayShift(now: string | null, planned: string | null, asOf: string): string {
  if (now !== null && planned !== null && now <= asOf && planned <= asOf) return t('plan.shift.past')
  if (now === planned) return t('plan.shift.none')
  if (planned === null) return t('plan.shift.never')
  if (now === null) return t('plan.shift.within')
  return t(planned > now ? 'plan.shift.later' : 'plan.shift.earlier', { gap: sayGap(now, planned) })
}

/** The answer in a sentence: which anode is due first under the plan, and when. */
export function sayPlanned(anodes: readonly PlannedAnode[]): string {
  const first = inOrderOf(anodes, ({ planned }) => planned.replace.p50)[0]
  if (first === undefined) return t('plan.said.none')
  const date = first.planned.replace.p50
  if (date === null) return t('plan.said.never', { count: anodes.length })
  if (date <= first.planned.asOf) return t('plan.said.past', { anode: first.anode })
  return t('plan.said.first', { anode: first.anode, day: sayDay(date) })
}

/** One calendar for all the bars of an answer, so that they can be held against each other. */
export function planAxis(asOf: string, anodes: readonly PlannedAnode[]): DateAxis {
  const ends = anodes.flatMap(({ now, planned }) => [now.replace.p90, planned.replace.p90])
  return axisUntil(asOf, latest(ends.filter((end) => end !== null)) ?? asOf)
}

/** The anodes in the order in which they are due as things stand. */
export function byDueDate(anodes: readonly PlannedAnode[]): PlannedAnode[] {
  return inOrderOf(anodes, ({ now }) => now.replace.p50)
}

function inOrderOf(anodes: readonly PlannedAnode[], dateOf: (anode: PlannedAnode) => string | null): PlannedAnode[] {
  const due = (anode: PlannedAnode) => dateOf(anode) ?? NEVER
  return anodes.toSorted((a, b) => (due(a) === due(b) ? 0 : due(a) < due(b) ? -1 : 1))
}
