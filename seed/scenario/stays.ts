import { dice } from '../random.js'
import type { Boat } from './boats.js'
import { addDays, daysBetween } from './calendar.js'
import { berthNamed, VISITOR_BERTHS } from './harbour.js'
import type { Lift } from './lifts.js'

/** A boat at one berth, or ashore without one, from a day up to but not including another. */
export interface Stay {
  from: string
  to?: string
  berth?: string
  shoreHours?: number
}

/** Which visitor berths are taken, and when: two boats cannot lie in one. */
export type VisitorBook = { berth: string; from: string; to: string }[]

const LONGEST_STAY_DAYS = 10 * 366

/** The stays of one boat, end to end, from its lifts, its home berth and its summer visits. */
export function staysOf(boat: Boat, lifts: readonly Lift[], today: string, visitors: VisitorBook): Stay[] {
  const done = lifts.filter((lift) => lift.on <= today)
  return done.flatMap((lift, index) => {
    const next = done[index + 1]
    const ashore = lift.on < lift.relaunchOn ? [ashoreStay(boat, lift, today)] : []
    if (lift.relaunchOn > today) return ashore
    return [...ashore, ...afloat(boat, lift.relaunchOn, next?.on, today, visitors)]
  })
}

function ashoreStay(boat: Boat, lift: Lift, today: string): Stay {
  const undecided = lift.relaunchOn > today && !boat.nextLiftPlanned
  return { from: lift.on, ...(undecided ? {} : { to: lift.relaunchOn }) }
}

function afloat(boat: Boat, from: string, to: string | undefined, today: string, visitors: VisitorBook): Stay[] {
  const spans: { from: string; to?: string; berth: string }[] = []
  const end = to ?? addDays(today, LONGEST_STAY_DAYS)
  let at = from
  for (const visit of visitsBetween(boat, from, to ?? today, visitors)) {
    spans.push({ from: at, to: visit.from, berth: boat.berth }, visit)
    at = visit.to
  }
  spans.push({ from: at, ...(to === undefined ? {} : { to }), berth: boat.berth })
  const moved = boat.earlierBerth
  const split = moved === undefined ? spans : spans.flatMap((span) => splitAtMove(span, end, moved, today))
  return split.map((span) => withShorePower(boat, span))
}

function splitAtMove(
  span: { from: string; to?: string; berth: string },
  end: string,
  moved: NonNullable<Boat['earlierBerth']>,
  today: string,
) {
  const moveDay = addDays(today, -moved.untilDaysAgo)
  if (span.from >= moveDay) return [span]
  if ((span.to ?? end) <= moveDay) return [{ ...span, berth: moved.berth }]
  return [
    { ...span, to: moveDay, berth: moved.berth },
    { ...span, from: moveDay },
  ]
}

/** Two to four weeks away in most summers that the boat spends afloat. */
function visitsBetween(boat: Boat, from: string, to: string, visitors: VisitorBook) {
  const berths = boat.visits === undefined ? [] : (VISITOR_BERTHS[boat.visits] ?? [])
  const visits: { berth: string; from: string; to: string }[] = []
  for (let year = Number(from.slice(0, 4)); year <= Number(to.slice(0, 4)); year += 1) {
    const chance = dice(boat.boat, 'visit', year)
    const arrive = addDays(`${year}-06-12`, chance.between(0, 60))
    const visit = { from: arrive, to: addDays(arrive, chance.between(14, 28)) }
    const fits = visit.from > addDays(from, 7) && visit.to < addDays(to, -7) && chance.chance(0.85)
    const free = berths.find(
      (berth) => !visitors.some((v) => v.berth === berth && v.from < visit.to && visit.from < v.to),
    )
    if (!fits || free === undefined) continue
    visitors.push({ berth: free, ...visit })
    visits.push({ berth: free, ...visit })
  }
  return visits
}

function withShorePower(boat: Boat, span: { from: string; to?: string; berth: string }): Stay {
  if (!berthNamed(span.berth).shorePower) return { ...span, shoreHours: 0 }
  const hours = Math.round(boat.shoreHours + dice(boat.boat, 'shore power', span.from).between(-1.5, 1.5))
  return { ...span, shoreHours: Math.min(24, Math.max(0, hours)) }
}

/** Days of a stay that fall between two dates. */
export function daysWithin(stay: Stay, from: string, to: string): { from: string; days: number } {
  const start = stay.from > from ? stay.from : from
  const end = stay.to !== undefined && stay.to < to ? stay.to : to
  return { from: start, days: Math.max(0, daysBetween(start, end)) }
}
