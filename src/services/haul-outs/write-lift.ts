import type { NewHaulOut } from '../../contract/haul-outs.js'
import type { Db } from '../../db/client.js'
import { anodesOfBoat, insertAnodes, removeAnodes } from '../../db/repositories/anodes.js'
import { type HaulOutRecord, haulOutOnDay, insertHaulOut, updateHaulOut } from '../../db/repositories/haul-outs.js'
import { adoptWeighings, insertWeighings, weighingsOfBoat, whoLogged } from '../../db/repositories/weighings.js'
import type { Actor } from '../actor.js'
import { isInFuture } from '../dates/not-in-future.js'
import { Conflict, Invalid } from '../errors.js'
import { liftFaults } from './haul-out-faults.js'
import { moveStays } from './move-stays.js'
import { type AnodePlan, type Clash, planLift } from './plan-lift.js'

/** A lift to log, on a boat that the caller has locked. */
export interface LiftOfBoat {
  readonly boatId: string
  readonly boat: string
  readonly lift: NewHaulOut
  readonly today: string
}

export interface WrittenLift {
  readonly id: string
  readonly isNew: boolean
  /** False when all of it had been logged before. */
  readonly changed: boolean
}

/** Writes a lift that was judged whole. @throws Invalid, Conflict */
export async function writeLift(tx: Db, actor: Actor, { boatId, boat, lift, today }: LiftOfBoat): Promise<WrittenLift> {
  const { organisationId } = actor
  const [anodes, weighings, stored] = await Promise.all([
    anodesOfBoat(tx, organisationId, boatId),
    weighingsOfBoat(tx, organisationId, boatId),
    haulOutOnDay(tx, organisationId, boatId, lift.hauledOn),
  ])
  const faults = liftFaults(lift, today)
  const plan = planLift(lift, { boat, anodes, weighings, today })
  // Each anode of a lift that lies ahead would only repeat that it does.
  const errors = isInFuture(lift.hauledOn, today) ? faults : [...faults, ...plan.errors]
  if (errors.length > 0) throw new Invalid(errors)
  await refuseClash(tx, organisationId, plan.clashes[0])
  const haulOut = await writeHaulOut(tx, organisationId, { boatId, stored }, lift)
  const worked = await writeAnodes(tx, organisationId, haulOut.id, lift.hauledOn, plan.anodes)
  const out = { boatId, hauledOn: lift.hauledOn, relaunchedOn: lift.relaunchedOn ?? null }
  const moved = lift.relaunch ? await moveStays(tx, actor, out, lift.relaunch) : false
  return { id: haulOut.id, isNew: haulOut.isNew, changed: haulOut.changed || worked || moved }
}

async function refuseClash(tx: Db, organisationId: string, clash: Clash | undefined): Promise<void> {
  if (!clash) return
  const who = await whoLogged(tx, organisationId, clash.table, clash.rowId)
  const by = who === undefined ? '' : ` (logged by ${who.replace(/^\w+:/, '')})`
  throw new Conflict(`${clash.logged}${by}; correct that where it was wrong`, 'logged-differently')
}

/** The haul-out of that day, made or completed: what the first log left open, the second may fill. */
async function writeHaulOut(
  tx: Db,
  organisationId: string,
  { boatId, stored }: { boatId: string; stored: HaulOutRecord | undefined },
  lift: NewHaulOut,
): Promise<WrittenLift> {
  const { hauledOn, relaunchedOn = null, planned = null, note = null } = lift
  if (!stored) {
    const id = await insertHaulOut(tx, organisationId, { boatId, hauledOn, relaunchedOn, planned, note })
    return { id, isNew: true, changed: true }
  }
  const completed = completedBy(stored, { relaunchedOn, planned, note })
  await updateHaulOut(tx, organisationId, stored.id, completed)
  return { id: stored.id, isNew: false, changed: Object.keys(completed).length > 0 }
}

function completedBy(
  stored: HaulOutRecord,
  given: Pick<HaulOutRecord, 'relaunchedOn' | 'planned' | 'note'>,
): Partial<typeof given> {
  if (given.relaunchedOn !== null && stored.relaunchedOn !== null && given.relaunchedOn !== stored.relaunchedOn) {
    const detail = `the haul-out on ${stored.hauledOn} was logged with relaunch on ${stored.relaunchedOn}: change that instead`
    throw new Conflict(detail, 'logged-differently')
  }
  const fillsRelaunch = given.relaunchedOn !== null && stored.relaunchedOn === null
  const fillsPlanned = given.planned !== null && stored.planned === null
  const addsNote = given.note !== null && !stored.note?.includes(given.note)
  return {
    ...(fillsRelaunch && { relaunchedOn: given.relaunchedOn }),
    ...(fillsPlanned && { planned: given.planned }),
    ...(addsNote && { note: stored.note === null ? given.note : `${stored.note}\n${given.note}` }),
  }
}

/** @returns whether there was anything to write */
async function writeAnodes(
  tx: Db,
  organisationId: string,
  haulOutId: string,
  hauledOn: string,
  plans: readonly AnodePlan[],
): Promise<boolean> {
  const adopted = plans.flatMap((plan) => plan.adopt ?? [])
  await adoptWeighings(tx, organisationId, haulOutId, adopted)
  const weighed = plans.flatMap(({ anode, weigh }) => (weigh ? { ...weigh, anodeId: anode.id, haulOutId } : []))
  await insertWeighings(tx, organisationId, weighed)
  const replaced = plans.flatMap(({ anode, fit }) => (fit ? anode.id : []))
  // A place is free before the next anode is fitted there.
  await removeAnodes(tx, organisationId, replaced, hauledOn)
  await insertAnodes(
    tx,
    organisationId,
    plans.flatMap(({ fit }) => fit ?? []),
  )
  return adopted.length > 0 || plans.some((plan) => plan.weigh !== null || plan.fit !== null)
}
