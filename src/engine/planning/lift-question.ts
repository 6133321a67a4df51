/** A day on which boats may be lifted. */
export interface LiftDay {
  /** Day number. */
  readonly on: number
  /** Boats that can be lifted on it; `null`: as many as need it. */
  readonly places: number | null
}

/** An anode whose risk of being due is known for any day. */
export interface PlannableAnode {
  readonly key: string
  /**
   * Probability of being due by a day [–]: no less on a later day, no more where it was renewed.
   *
   * @param renewedOn day number on which a new one takes its place; `null` while it stays
   */
  readonly riskBy: (day: number, renewedOn: number | null) => number
}

export interface PlannableBoat {
  readonly boat: string
  readonly anodes: readonly PlannableAnode[]
}

/** What a plan is to hold. */
export interface LiftQuestion {
  /** Day number of today. */
  readonly asOf: number
  /** In order, each day once. */
  readonly days: readonly LiftDay[]
  /** Day number until which no anode may pass its threshold. */
  readonly until: number
  /** Largest accepted risk of an anode's being due [–]. */
  readonly risk: number
}

/** The largest risk of a boat's anodes on a day, all as they are or all renewed, with the anode that has it. */
export function worstRisk(
  { anodes }: PlannableBoat,
  day: number,
  renewedOn: number | null,
): { readonly key: string; readonly risk: number } | null {
  let worst: { key: string; risk: number } | null = null
  for (const { key, riskBy } of anodes) {
    const risk = riskBy(day, renewedOn)
    if (worst === null || risk > worst.risk) worst = { key, risk }
  }
  return worst
}

/** Whether none of a boat's anodes is due by a day with more than a risk. */
export function holdsBy(boat: PlannableBoat, day: number, risk: number, renewedOn: number | null): boolean {
  return boat.anodes.every((anode) => anode.riskBy(day, renewedOn) <= risk)
}

/**
 * The latest of some days on which something still holds that, once it has ceased, does not come back.
 *
 * @param count how many there are, told by their index
 * @returns index of the day, −1 where it holds on none
 */
export function latestHeld(count: number, holds: (index: number) => boolean): number {
  let [held, broken] = [-1, count]
  while (broken - held > 1) {
    const middle = (held + broken) >> 1
    if (holds(middle)) held = middle
    else broken = middle
  }
  return held
}
