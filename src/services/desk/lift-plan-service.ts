import { setImmediate } from 'node:timers/promises'
import type {
  CountedParts,
  LiftPlanAnswer,
  LiftPlanRequest,
  PartOfLift,
  PartsList,
  PartsQuery,
} from '../../contract/desk-plan.js'
import { prospectiveRisk } from '../../engine/planning/anode-prospect.js'
import { countParts } from '../../engine/planning/count-parts.js'
import type { LiftQuestion, PlannableBoat } from '../../engine/planning/lift-question.js'
import { replacementsAt } from '../../engine/planning/lift-replacements.js'
import { planLifts } from '../../engine/planning/plan-lifts.js'
import { inspectionIntervalDays } from '../../engine/rates/normal-life.js'
import type { Actor } from '../actor.js'
import { calendarDay, dayNumber } from '../dates/day-numbers.js'
import { Invalid } from '../errors.js'
import type { DeskFleet, DeskFleetAnode, DeskFleetBoat } from './desk-fleet.js'
import type { DeskFleets } from './desk-fleets.js'

const YEARLY_LOOK_DAYS = inspectionIntervalDays()
/** Boats planned at once: others are served in between. */
const BOATS_AT_ONCE = 25

/** A boat of the fleet with the risks of its anodes. */
interface Planned {
  readonly boat: DeskFleetBoat
  readonly plannable: PlannableBoat
}

/** Which boats to lift when, and what to have at hand. Nothing of it is kept. */
export class LiftPlanService {
  readonly #fleets: DeskFleets

  constructor(fleets: DeskFleets) {
    this.#fleets = fleets
  }

  /** @throws Invalid naming the day, NotComputed */
  async plan({ organisationId }: Actor, request: LiftPlanRequest): Promise<LiftPlanAnswer> {
    const fleet = await this.#fleets.today(organisationId)
    const question = questionOf(request, fleet)
    const boats = plannedBoats(fleet)
    // Alone first, in small portions: the risks that the whole plan asks for are known by then.
    for (const [index, { plannable }] of boats.entries()) {
      if (index % BOATS_AT_ONCE === BOATS_AT_ONCE - 1) await setImmediate()
      planLifts([plannable], question)
    }
    return answerOf(fleet, boats, question)
  }

  /** What to have at hand at the lifts that are in the calendar. @throws NotComputed */
  async parts({ organisationId }: Actor, { until, risk }: PartsQuery): Promise<PartsList> {
    const fleet = await this.#fleets.today(organisationId)
    const last = until ?? calendarDay(fleet.day + YEARLY_LOOK_DAYS)
    const lifts = plannedBoats(fleet).flatMap((each) => partsOfBoat(each, last, risk))
    return {
      asOf: fleet.asOf,
      until: last,
      risk,
      lifts: lifts.sort((a, b) => compare(a.on, b.on) || compare(a.boat, b.boat)),
      parts: counted(lifts.flatMap(({ replace }) => replace)),
    }
  }
}

function questionOf({ days, until, risk }: LiftPlanRequest, { asOf, day }: DeskFleet): LiftQuestion {
  const ordered = days.map(({ on, places }) => ({ on: dayNumber(on), places })).sort((a, b) => a.on - b.on)
  const last = ordered.at(-1)!.on
  const end = until === undefined ? last + YEARLY_LOOK_DAYS : dayNumber(until)
  const errors = days.flatMap(({ on }, index) =>
    on < asOf ? { pointer: `#/days/${index}/on`, detail: `${on} lies behind: give days from ${asOf} on` } : [],
  )
  if (end < last) errors.push({ pointer: '#/until', detail: 'until must not lie before the last day' })
  if (errors.length > 0) throw new Invalid(errors)
  return { asOf: day, days: ordered, until: end, risk }
}

function plannedBoats(fleet: DeskFleet): Planned[] {
  return fleet.boats
    .map((boat) => ({ boat, plannable: { boat: boat.boat, anodes: boat.anodes.flatMap(plannableAnode) } }))
    .filter(({ plannable }) => plannable.anodes.length > 0)
}

/** Risks are asked for again and again, of few days. */
function plannableAnode({ id, prospect }: DeskFleetAnode): PlannableBoat['anodes'] {
  if (prospect === null) return []
  const known = new Map<string, number>()
  const riskBy = (day: number, renewedOn: number | null) => {
    const key = `${day}:${renewedOn}`
    const risk = known.get(key) ?? prospectiveRisk(prospect, day, renewedOn)
    known.set(key, risk)
    return risk
  }
  return [{ key: id, riskBy }]
}

function answerOf(fleet: DeskFleet, boats: readonly Planned[], question: LiftQuestion): LiftPlanAnswer {
  const { lifts, unheld, unlifted } = planLifts(
    boats.map(({ plannable }) => plannable),
    question,
  )
  const byName = new Map(boats.map(({ boat }) => [boat.boat, boat]))
  const planned = lifts.map(({ boat, on, latest, risk, replace }) => {
    const whole = byName.get(boat)!
    const parts = replace.map((key) => partOf(whole, key))
    return { on, entry: { boat, berth: whole.berth, latest: dayOrNull(latest), risk, replace: parts } }
  })
  return {
    asOf: fleet.asOf,
    until: calendarDay(question.until),
    risk: question.risk,
    days: question.days.map(({ on, places }) => ({
      on: calendarDay(on),
      places,
      boats: planned.filter((each) => each.on === on).map(({ entry }) => entry),
    })),
    unheld: unheld.map(({ anode, heldUntil, liftedOn, ...rest }) => {
      const whole = byName.get(rest.boat)!
      const { item } = whole.anodes.find(({ id }) => id === anode)!
      const days = { heldUntil: dayOrNull(heldUntil), liftedOn: dayOrNull(liftedOn) }
      return { ...rest, ...days, berth: whole.berth, anode: item.anode, position: item.position }
    }),
    unlifted: [...unlifted],
    unforecast: fleet.boats.map(({ boat }) => boat).filter((boat) => !byName.has(boat)),
    parts: counted(planned.flatMap(({ entry }) => entry.replace)),
  }
}

function partsOfBoat({ boat, plannable }: Planned, until: string, risk: number): PartsList['lifts'] {
  const days = boat.haulOuts.filter(({ planned }) => planned).map(({ on }) => on)
  const lifts = days
    .map((on, index) => ({ on, next: days[index + 1] ?? calendarDay(dayNumber(on) + YEARLY_LOOK_DAYS) }))
    .filter(({ on }) => on <= until)
  const settled = lifts.map(({ on, next }) => ({ on: dayNumber(on), next: dayNumber(next) }))
  const replacements = replacementsAt(plannable, settled, risk)
  return lifts.map(({ on, next }, index) => ({
    boat: boat.boat,
    berth: boat.berth,
    on,
    next,
    replace: replacements[index]!.map((key) => partOf(boat, key)),
  }))
}

function partOf(boat: DeskFleetBoat, key: string): PartOfLift {
  const { item, shape, massG } = boat.anodes.find(({ id }) => id === key)!
  return { anode: item.anode, position: item.position, alloy: item.alloy, shape, massG }
}

function counted(parts: readonly PartOfLift[]): CountedParts {
  return countParts(parts).map((part) => ({ ...part }))
}

function dayOrNull(day: number | null): string | null {
  return day === null ? null : calendarDay(day)
}

function compare(a: string, b: string): number {
  if (a === b) return 0
  return a < b ? -1 : 1
}
