import { holdsBy, type LiftQuestion, latestHeld, type PlannableBoat } from './lift-question.js'

/** A boat on its way through a plan. */
export interface BoatOnAgenda {
  readonly boat: PlannableBoat
  /** Indices of its days so far, in order. */
  readonly days: readonly number[]
}

/** Why the risk cannot be kept for a boat: it is passed before any of the days, between two of them, or no place is left. */
export type UnheldReason = 'before-first-day' | 'between-days' | 'no-place'

export interface LateBoat {
  readonly of: BoatOnAgenda
  readonly reason: UnheldReason
}

interface Waiting {
  readonly of: BoatOnAgenda
  /** Index of the last day that suits it; no later than its last lift where none does. */
  readonly last: number
}

/** Who is lifted on which of a plan's days, and the places that are left. */
export class LiftAgenda {
  readonly #question: LiftQuestion
  readonly #places: number[]
  readonly #waiting: Waiting[] = []
  readonly #done: BoatOnAgenda[] = []

  constructor(question: LiftQuestion) {
    this.#question = question
    this.#places = question.days.map(({ places }) => places ?? Infinity)
  }

  /** The boats that have a day, each with all of its days; for when none is waiting any more. */
  get done(): readonly BoatOnAgenda[] {
    return this.#done
  }

  /**
   * Puts a boat down for its next lift.
   *
   * @returns whether it needs one: false where its anodes hold until the plan's end
   */
  add(of: BoatOnAgenda): boolean {
    const { days, until, risk } = this.#question
    const after = of.days.at(-1) ?? -1
    const renewedOn = days[after]?.on ?? null
    if (holdsBy(of.boat, until, risk, renewedOn)) {
      if (after >= 0) this.#done.push(of)
      return false
    }
    const suits = (index: number) => index <= after || holdsBy(of.boat, days[index]!.on, risk, renewedOn)
    this.#waiting.push({ of, last: latestHeld(days.length, suits) })
    return true
  }

  /**
   * Gives each waiting boat a day, the one with the earliest last day first, as late as it may, and again for its following lift.
   *
   * @returns the boats for which no day suits, or none that suits has a place
   */
  fill(): LateBoat[] {
    const late: LateBoat[] = []
    for (let next = this.#takeFirst(); next !== undefined; next = this.#takeFirst()) {
      const { of, last } = next
      const after = of.days.at(-1) ?? -1
      const index = this.#places.findLastIndex((places, day) => day > after && day <= last && places > 0)
      if (index >= 0) this.#place(of, index)
      else if (last > after) late.push({ of, reason: 'no-place' })
      else late.push({ of, reason: after < 0 ? 'before-first-day' : 'between-days' })
    }
    return late
  }

  /** Gives a late boat the earliest place that is left. @returns index of the day, `null` where there is none */
  placeEarliest(of: BoatOnAgenda): number | null {
    const after = of.days.at(-1) ?? -1
    const index = this.#places.findIndex((places, day) => day > after && places > 0)
    if (index >= 0) this.#place(of, index)
    else if (after >= 0) this.#done.push(of)
    return index < 0 ? null : index
  }

  #place(of: BoatOnAgenda, index: number): void {
    this.#places[index]!--
    this.add({ boat: of.boat, days: [...of.days, index] })
  }

  #takeFirst(): Waiting | undefined {
    let first = 0
    this.#waiting.forEach(({ last }, at) => {
      if (last < this.#waiting[first]!.last) first = at
    })
    return this.#waiting.splice(first, 1)[0]
  }
}
