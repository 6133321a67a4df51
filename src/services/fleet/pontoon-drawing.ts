import { createHash } from 'node:crypto'
import type { NewPontoonDrawing, PontoonDrawing } from '../../contract/pontoon-drawing.js'
import type { BerthSide } from '../../contract/vocabulary.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { removePontoonWithoutBerths } from '../../db/repositories/berths.js'
import {
  type BerthToDraw,
  berthsToDraw,
  insertBerths,
  insertPontoons,
  lockHarbour,
  moveBerths,
  pontoonsToDraw,
  removeBerths,
  renameAll,
  replaceDrawing,
} from '../../db/repositories/pontoon-drawing.js'
import type { Actor } from '../actor.js'
import { Conflict, Stale } from '../errors.js'
import type { RefitRequests } from '../jobs/refit-requests.js'
import { changesTheFleet, type DrawingPlan, type HarbourOnRecord, planDrawing } from './drawing-plan.js'

/** The harbour as it is drawn: pontoons on a plan, berths in order on their sides. */
export class PontoonDrawingService {
  readonly #db: Db
  readonly #refits: RefitRequests

  constructor(db: Db, refits: RefitRequests) {
    this.#db = db
    this.#refits = refits
  }

  read(actor: Actor): Promise<PontoonDrawing> {
    return inOrganisation(this.#db, actor, async (tx) => drawingOf(await onRecord(tx, actor)))
  }

  /**
   * Puts a drawing in the place of the one before: makes, renames, moves and removes what it says of pontoons and berths.
   *
   * @throws Stale where the drawing, or a pontoon or berth, is another than what was read; Invalid; Conflict where a name is taken or a boat
   *   has lain at a berth that is to be removed
   */
  replace(actor: Actor, expectedVersion: number, drawing: NewPontoonDrawing): Promise<PontoonDrawing> {
    return inOrganisation(this.#db, actor, async (tx) => {
      await lockHarbour(tx, actor.organisationId)
      const before = await onRecord(tx, actor)
      if (versionOf(before) !== expectedVersion) throw new Stale('the drawing')
      const plan = planDrawing(before, drawing)
      refuseRemoval(plan.removed)
      await write(tx, actor.organisationId, plan)
      if (changesTheFleet(plan)) await this.#refits.request(tx, actor)
      return drawingOf(await onRecord(tx, actor))
    })
  }
}

async function onRecord(tx: Db, { organisationId }: Actor): Promise<HarbourOnRecord> {
  return {
    pontoons: await pontoonsToDraw(tx, organisationId),
    berths: await berthsToDraw(tx, organisationId),
  }
}

function refuseRemoval(removed: readonly BerthToDraw[]): void {
  const kept = removed.find(({ hasStays }) => hasStays)
  if (kept === undefined) return
  throw new Conflict(`boats have stayed at berth ${kept.name}; a berth with stays is not removed`)
}

/** What frees names comes first, what takes them after it. */
async function write(tx: Db, organisationId: string, plan: DrawingPlan): Promise<void> {
  await removeBerths(
    tx,
    organisationId,
    plan.removed.map(({ id }) => id),
  )
  await renameAll(tx, organisationId, 'pontoons', plan.renamedPontoons)
  await renameAll(tx, organisationId, 'berths', plan.renamedBerths)
  await insertPontoons(tx, organisationId, plan.newPontoons)
  await insertBerths(tx, organisationId, plan.newBerths)
  for (const [pontoonId, ids] of plan.moved) await moveBerths(tx, organisationId, ids, pontoonId)
  await replaceDrawing(tx, organisationId, plan.lines, plan.places)
  for (const id of plan.undrawnPontoonIds) await removePontoonWithoutBerths(tx, organisationId, id)
}

/** "B2" before "B10". */
const byName = new Intl.Collator('en', { numeric: true }).compare

function drawingOf(harbour: HarbourOnRecord): PontoonDrawing {
  const { pontoons, berths } = harbour
  const sideOf = (pontoonId: string, wanted: BerthSide) =>
    berths.filter((berth) => berth.pontoonId === pontoonId && berth.side === wanted).map(viewOf)
  const undrawn = [...pontoons, null].map((pontoon) => ({
    pontoon: pontoon && { id: pontoon.id, name: pontoon.name },
    berths: berths
      .filter(({ pontoonId, side }) => pontoonId === (pontoon?.id ?? null) && side === null)
      .sort((a, b) => byName(a.name, b.name))
      .map(viewOf),
  }))
  return {
    version: versionOf(harbour),
    pontoons: pontoons
      .flatMap(({ id, name, line }) =>
        line === null ? [] : { id, name, ...line, left: sideOf(id, 'left'), right: sideOf(id, 'right') },
      )
      .sort((a, b) => byName(a.name, b.name)),
    undrawn: undrawn.filter((group) => group.berths.length > 0),
  }
}

const viewOf = ({ id, name, hasStays }: BerthToDraw) => ({ id, name, hasStays })

/** An entity tag names versions by up to nine digits. */
const VERSIONS = 1e9

/**
 * What a drawing is based on, as a number that changes with any of it: berths are renamed, moved and removed by forms, files and programs too, and
 * a count of the drawings would not tell. Of two unlike harbours in a thousand million one pair is taken for the same.
 */
function versionOf({ pontoons, berths }: HarbourOnRecord): number {
  const said = JSON.stringify([
    pontoons.map(({ id, name, line }) => [id, name, line]).sort(byId),
    berths.map(({ id, name, pontoonId, side, place }) => [id, name, pontoonId, side, place]).sort(byId),
  ])
  return createHash('sha256').update(said).digest().readUInt32BE() % VERSIONS
}

const byId = ([a]: readonly unknown[], [b]: readonly unknown[]) => (String(a) < String(b) ? -1 : 1)
