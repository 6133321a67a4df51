import type { LiftPlanAnswer } from '../../../contract/desk-plan.js'
import type { NewPlannedLifts } from '../../../contract/planned-lifts.js'

/** What a manager made of one lift of the plan; what is not said is as planned. */
export interface LiftEdit {
  readonly on?: string
  readonly isLeftOut?: boolean
}

/** By `liftKey`. */
export type LiftEdits = Readonly<Record<string, LiftEdit>>

export function liftKey(boat: string, plannedOn: string): string {
  return `${plannedOn} ${boat}`
}

/** The lifts to put into the calendar: as planned, but for what was changed. A boat that was moved onto another of its days is lifted once. */
export function chosenLifts({ days }: Pick<LiftPlanAnswer, 'days'>, edits: LiftEdits): NewPlannedLifts['lifts'] {
  const lifts = days.flatMap(({ on: plannedOn, boats }) =>
    boats.flatMap(({ boat }) => {
      const { on = plannedOn, isLeftOut = false } = edits[liftKey(boat, plannedOn)] ?? {}
      return isLeftOut || on === '' ? [] : [{ boat, on }]
    }),
  )
  return [...new Map(lifts.map((lift) => [liftKey(lift.boat, lift.on), lift])).values()]
}
