import { type BoatOnAgenda, LiftAgenda, type UnheldReason } from './lift-agenda.js'
import { holdsBy, type LiftQuestion, latestHeld, type PlannableBoat, worstRisk } from './lift-question.js'
import { type PlannedLift, withReplacements } from './lift-replacements.js'

/** A boat for which the risk is not kept throughout. It has the earliest place that the others leave. */
export interface UnheldBoat {
  readonly boat: string
  readonly reason: UnheldReason
  /** The anode with the largest risk then. */
  readonly anode: string
  /** Last day number by which the risk is kept; `null` where it is passed from the start. */
  readonly heldUntil: number | null
  /** Of being due by the day of its late lift, or by the end of the plan where it has none [–]. */
  readonly risk: number
  /** Day number of its late lift; `null` where no place is left on any day. */
  readonly liftedOn: number | null
}

export interface LiftPlan {
  /** In order of the days, then of the boats' names. */
  readonly lifts: readonly PlannedLift[]
  readonly unheld: readonly UnheldBoat[]
  /** Boats that need no lift until the end of the plan. */
  readonly unlifted: readonly string[]
}

/**
 * The plan that lifts the fewest boats while no anode is due with more than the accepted risk: a boat is lifted only where an
 * anode would pass it before the plan's end, each time as late as it may. Where places are few, the boat with the earliest
 * last day chooses first and takes the latest place that is left for it.
 *
 * Without places to count this is the least number of lifts: any plan that keeps the risk has lifted a boat by each of the days
 * found here, for a later renewal never lasts shorter. With places, and one lift a boat, it keeps the risk for as many boats as
 * can be: the days that suit a boat are all those up to its last one, so that one is refused only where all of them are taken
 * by boats that have no later place, and sets of boats that can be placed form a matroid. Where boats need several lifts and
 * places are few it is a good plan, not proved the least.
 *
 * @see reference `jackson-1955`, `edmonds-fulkerson-1965`
 */
export function planLifts(boats: readonly PlannableBoat[], question: LiftQuestion): LiftPlan {
  const agenda = new LiftAgenda(question)
  const ordered = [...boats].sort((a, b) => byName(a.boat, b.boat))
  const unlifted = ordered.filter((boat) => !agenda.add({ boat, days: [] })).map(({ boat }) => boat)
  const unheld = new Map<string, UnheldBoat>()
  for (let late = agenda.fill(); late.length > 0; late = agenda.fill()) {
    for (const { of, reason } of late) {
      const index = agenda.placeEarliest(of)
      const { boat } = of.boat
      // A boat that is late again at its following lifts is told of once, with the first.
      if (!unheld.has(boat)) unheld.set(boat, unheldBoat(of, reason, index, question))
    }
  }
  const lifts = agenda.done.flatMap((each) => withReplacements(each, question))
  return {
    lifts: lifts.sort((a, b) => a.on - b.on || byName(a.boat, b.boat)),
    unheld: [...unheld.values()].sort((a, b) => byName(a.boat, b.boat)),
    unlifted,
  }
}

function unheldBoat(
  { boat, days: before }: BoatOnAgenda,
  reason: UnheldReason,
  index: number | null,
  { asOf, days, until, risk }: LiftQuestion,
): UnheldBoat {
  const after = before.at(-1)
  const renewedOn = after === undefined ? null : days[after]!.on
  const from = renewedOn ?? asOf
  const held = latestHeld(until - from + 1, (day) => holdsBy(boat, from + day, risk, renewedOn))
  const liftedOn = index === null ? null : days[index]!.on
  const worst = worstRisk(boat, liftedOn ?? until, renewedOn)!
  return {
    boat: boat.boat,
    reason,
    anode: worst.key,
    heldUntil: held < 0 ? null : from + held,
    risk: worst.risk,
    liftedOn,
  }
}

/** By code point, the same everywhere. */
function byName(a: string, b: string): number {
  if (a === b) return 0
  return a < b ? -1 : 1
}
