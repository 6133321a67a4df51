import type { NewHaulOut } from '../../contract/haul-outs.js'
import { inFutureDetail, isInFuture } from '../dates/not-in-future.js'
import type { FieldError } from '../errors.js'

interface Dates {
  readonly hauledOn: string
  readonly relaunchedOn: string | null
  readonly planned: boolean | null
}

/** What cannot be of a haul-out's days: only a planned one lies ahead. */
export function dateFaults({ hauledOn, relaunchedOn, planned }: Dates, today: string): FieldError[] {
  const faults: FieldError[] = []
  const liesAhead = isInFuture(hauledOn, today)
  if (liesAhead && planned !== true) {
    faults.push({ pointer: '#/hauledOn', detail: `${inFutureDetail(hauledOn)}, or say planned: true` })
  }
  if (relaunchedOn === null) return faults
  if (relaunchedOn < hauledOn) {
    const detail = `relaunched on ${relaunchedOn}, but hauled on ${hauledOn}: correct one of them`
    faults.push({ pointer: '#/relaunchedOn', detail })
  }
  if (!liesAhead && isInFuture(relaunchedOn, today)) {
    const detail = `${relaunchedOn} lies in the future: leave it out, and add it once the boat is afloat`
    faults.push({ pointer: '#/relaunchedOn', detail })
  }
  return faults
}

/** What cannot be of a lift beside its anodes. */
export function liftFaults(lift: NewHaulOut, today: string): FieldError[] {
  const { hauledOn, relaunchedOn = null, planned = null, weighings, relaunch } = lift
  const faults = dateFaults({ hauledOn, relaunchedOn, planned }, today)
  if (isInFuture(hauledOn, today)) {
    const detail = 'nothing can have been done at a lift that lies ahead: log it when it is done'
    if (weighings.length > 0) faults.push({ pointer: '#/weighings', detail })
    if (relaunch) faults.push({ pointer: '#/relaunch', detail })
  }
  if (relaunch && relaunch.berth !== null && relaunchedOn === null) {
    const detail = `needed to move the boat to berth ${relaunch.berth}: the day it went back into the water`
    faults.push({ pointer: '#/relaunchedOn', detail })
  }
  if (relaunch && relaunch.berth === null && relaunchedOn !== null) {
    const detail = `a boat that was relaunched on ${relaunchedOn} lies at a berth: name it, or leave relaunch out`
    faults.push({ pointer: '#/relaunch/berth', detail })
  }
  return faults
}
