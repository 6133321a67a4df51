import { setImmediate } from 'node:timers/promises'
import type { FeedScope } from '../../contract/calendar-feeds.js'
import type { AnodeInPlace, PlannedLift } from '../../db/repositories/calendar-facts.js'
import type { IssuedForecast } from '../../db/repositories/forecasts.js'
import type { CalendarWords, DueAnode } from '../../outside/calendar/calendar-words.js'
import type { EntryDraft } from './publish-entries.js'

/** What is known on a day of the boats that a feed is about. */
export interface CalendarFacts {
  readonly today: string
  readonly anodes: readonly AnodeInPlace[]
  readonly forecasts: readonly IssuedForecast[]
  readonly lifts: readonly PlannedLift[]
}

/** Anodes put into words at once: others are served in between. */
const ANODES_AT_ONCE = 100

/** The events of a feed: when anodes are due, and lifts with the anodes to replace at each. A yard's has the lifts alone. */
export async function calendarDrafts(
  scope: FeedScope,
  facts: CalendarFacts,
  words: CalendarWords,
): Promise<EntryDraft[]> {
  const due = dueAnodes(facts)
  const atLift = anodesByLift(due, facts)
  const lifts = facts.lifts.map((lift) => {
    const end = lift.relaunchedOn ?? lift.on
    return {
      ...words.lift({ boat: lift.boat, replace: atLift.get(lift.id) ?? [], isOver: lift.on < facts.today }),
      uid: `lift-${lift.id}@anode-ledger`,
      start: lift.on,
      end,
      path: pathOf(lift.boat),
      isOverdue: false,
      isOver: end < facts.today,
    }
  })
  if (scope === 'yard') return lifts
  const drafts: EntryDraft[] = lifts
  for (const [index, { id, on, anode }] of due.entries()) {
    if (index % ANODES_AT_ONCE === 0) await setImmediate()
    drafts.push({
      ...words.due(anode),
      uid: `due-${id}@anode-ledger`,
      start: on,
      end: on,
      path: pathOf(anode.boat),
      isOverdue: anode.isOverdue,
      isOver: false,
    })
  }
  return drafts
}

/** Each anode is replaced at the first lift of its boat that is not before its date: also one that is late by then. */
function anodesByLift(due: readonly Due[], { today, lifts }: CalendarFacts): ReadonlyMap<string, DueAnode[]> {
  const ahead = new Map<string, PlannedLift[]>()
  // Lifts come in order of their days.
  for (const lift of lifts) if (lift.on >= today) ahead.set(lift.boat, [...(ahead.get(lift.boat) ?? []), lift])
  const byLift = new Map<string, DueAnode[]>()
  for (const { on, anode } of due) {
    const lift = ahead.get(anode.boat)?.find((each) => each.on >= on)
    if (lift !== undefined) byLift.set(lift.id, [...(byLift.get(lift.id) ?? []), anode])
  }
  return byLift
}

interface Due {
  readonly id: string
  readonly on: string
  readonly anode: DueAnode
}

/** The recommended date lies on today for whatever may be due already; one that is beyond all forecasts has no day. */
function dueAnodes({ today, anodes, forecasts }: CalendarFacts): Due[] {
  const byAnode = new Map(forecasts.map(({ anodeId, item }) => [anodeId, item]))
  return anodes.flatMap(({ id, boat, anode, position }) => {
    const forecast = byAnode.get(id)
    const on = forecast?.recommendedOn
    if (forecast === undefined || on === undefined || on === null) return []
    return [{ id, on, anode: { boat, anode, position, forecast, isOverdue: on <= today } }]
  })
}

const pathOf = (boat: string) => `/boats/${encodeURIComponent(boat)}`
