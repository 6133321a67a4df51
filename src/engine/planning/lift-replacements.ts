import type { BoatOnAgenda } from './lift-agenda.js'
import { type LiftQuestion, latestHeld, type PlannableAnode, type PlannableBoat } from './lift-question.js'

/** One boat on one of the days. */
export interface PlannedLift {
  readonly boat: string
  /** Day number. */
  readonly on: number
  /** The last of the days by which the accepted risk would still be kept; `null` where it is passed by then already. */
  readonly latest: number | null
  /** Keys of the anodes to replace: those that would pass the risk before the boat's following lift, or the plan's end. */
  readonly replace: readonly string[]
  /** The largest risk among its anodes by that day [–]. */
  readonly risk: number
}

/** A boat's lifts with what to replace at each. */
export function withReplacements({ boat, days }: BoatOnAgenda, question: LiftQuestion): PlannedLift[] {
  const renewals = new Renewals(boat)
  return days.map((index, at) => {
    const { on } = question.days[index]!
    const following = days[at + 1]
    const next = following === undefined ? question.until : question.days[following]!.on
    const latest = latestHeld(
      question.days.length,
      (day) => question.days[day]!.on < on || renewals.worstBy(question.days[day]!.on) <= question.risk,
    )
    const risk = renewals.worstBy(on)
    const replace = renewals.renew(on, next, question.risk)
    return { boat: boat.boat, on, latest: risk > question.risk ? null : question.days[latest]!.on, replace, risk }
  })
}

/** Anodes to replace at lifts that are settled already, say those in the calendar. */
export interface SettledLift {
  /** Day number. */
  readonly on: number
  /** Day number of the following lift, or until when the anodes are to last. */
  readonly next: number
}

/** What to replace at each of a boat's lifts, given in order: keys of anodes. */
export function replacementsAt(boat: PlannableBoat, lifts: readonly SettledLift[], risk: number): string[][] {
  const renewals = new Renewals(boat)
  return lifts.map(({ on, next }) => renewals.renew(on, next, risk))
}

/** A boat's anodes, some of them renewed on the way. */
class Renewals {
  readonly #anodes: readonly PlannableAnode[]
  readonly #on = new Map<string, number>()

  constructor({ anodes }: PlannableBoat) {
    this.#anodes = anodes
  }

  worstBy(day: number): number {
    return Math.max(...this.#anodes.map((anode) => this.#riskBy(anode, day)))
  }

  /** Renews on a day what would pass the risk by another; gives the keys. */
  renew(on: number, next: number, risk: number): string[] {
    const due = this.#anodes.filter((anode) => this.#riskBy(anode, next) > risk).map(({ key }) => key)
    for (const key of due) this.#on.set(key, on)
    return due
  }

  #riskBy({ key, riskBy }: PlannableAnode, day: number): number {
    return riskBy(day, this.#on.get(key) ?? null)
  }
}
