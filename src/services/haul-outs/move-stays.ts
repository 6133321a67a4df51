import type { Relaunch } from '../../contract/haul-outs.js'
import type { StayView } from '../../contract/stays.js'
import type { Db } from '../../db/client.js'
import { type BerthKey, findBerth } from '../../db/repositories/berths.js'
import { deleteStay, insertStay, stayThatOverlaps, updateStay } from '../../db/repositories/stays.js'
import type { Actor } from '../actor.js'
import { addDays } from '../dates/not-in-future.js'
import { Invalid } from '../errors.js'

/** A boat out of the water from a day, and back in it on another; null while it stays ashore. */
export interface OutOfWater {
  readonly boatId: string
  readonly hauledOn: string
  readonly relaunchedOn: string | null
}

/**
 * Moves a boat's stays along with its lift: what it was at ends when it is hauled, ashore until it is relaunched, then at
 * the berth for as long as the stay that was cut would have lasted.
 *
 * @returns whether anything was changed; false when the stays say just that already
 * @throws Invalid for an unknown berth, or when another stay begins before the relaunch
 */
export async function moveStays(tx: Db, actor: Actor, out: OutOfWater, relaunch: Relaunch): Promise<boolean> {
  const berth = relaunch.berth === null ? null : await berthOf(tx, actor, relaunch.berth)
  const { organisationId } = actor
  const { boatId, hauledOn, relaunchedOn } = out
  const before = await stayOn(tx, organisationId, boatId, hauledOn)
  if (await isMoved(tx, organisationId, out, before, berth)) return false
  const leaving = relaunchedOn ?? hauledOn
  const end = await endOfStay(tx, organisationId, boatId, leaving, before)
  if (before?.fromOn === hauledOn) await deleteStay(tx, organisationId, before.id)
  else if (before) await updateStay(tx, organisationId, before.id, { toOn: hauledOn })
  await refuseStayBetween(tx, organisationId, out)
  if (berth === null || leaving > hauledOn) {
    const toOn = berth === null ? end : leaving
    await insertStay(tx, organisationId, boatId, { berthId: null, fromOn: hauledOn, toOn, shorePowerHoursPerDay: null })
  }
  if (berth === null) return true
  const sameBerth = before?.berth === berth.name ? before.shorePowerHoursPerDay : null
  const shorePowerHoursPerDay = relaunch.shorePowerHoursPerDay ?? sameBerth
  await insertStay(tx, organisationId, boatId, { berthId: berth.id, fromOn: leaving, toOn: end, shorePowerHoursPerDay })
  return true
}

async function berthOf(tx: Db, actor: Actor, berth: string): Promise<BerthKey> {
  const found = await findBerth(tx, actor, berth)
  if (found) return found
  throw new Invalid([{ pointer: '#/relaunch/berth', detail: `there is no berth ${berth}; null means it stays ashore` }])
}

function stayOn(tx: Db, organisationId: string, boatId: string, day: string): Promise<StayView | undefined> {
  return stayThatOverlaps(tx, organisationId, { boatId, fromOn: day, toOn: addDays(day, 1) })
}

/** Whether the stays are as the lift would leave them: the same log sent twice moves nothing twice. */
async function isMoved(
  tx: Db,
  organisationId: string,
  { boatId, hauledOn, relaunchedOn }: OutOfWater,
  before: StayView | undefined,
  berth: BerthKey | null,
): Promise<boolean> {
  if (!before) return false
  if (berth === null) return before.berth === null
  if (relaunchedOn === hauledOn) return before.berth === berth.name
  if (relaunchedOn === null || before.berth !== null || before.toOn !== relaunchedOn) return false
  return (await stayOn(tx, organisationId, boatId, relaunchedOn))?.berth === berth.name
}

/** When the new stay ends: with the one that was cut, or where the next begins. */
async function endOfStay(
  tx: Db,
  organisationId: string,
  boatId: string,
  from: string,
  before: StayView | undefined,
): Promise<string | null> {
  if (before && (before.toOn === null || before.toOn > from)) return before.toOn
  const next = await stayThatOverlaps(tx, organisationId, { boatId, fromOn: from, toOn: null })
  return next?.fromOn ?? null
}

async function refuseStayBetween(tx: Db, organisationId: string, out: OutOfWater): Promise<void> {
  const { boatId, hauledOn, relaunchedOn } = out
  const toOn = addDays(relaunchedOn ?? hauledOn, 1)
  const other = await stayThatOverlaps(tx, organisationId, { boatId, fromOn: hauledOn, toOn })
  if (!other) return
  const place = other.berth === null ? 'ashore' : `at berth ${other.berth}`
  const detail = `another stay, ${place}, begins on ${other.fromOn}: change it first, or leave relaunch out`
  throw new Invalid([{ pointer: '#/relaunch', detail }])
}
