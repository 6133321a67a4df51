import type { JobView } from '../../contract/jobs.js'
import type { Page } from '../../contract/paging.js'
import type {
  CorrectedWeighing,
  NewWeighing,
  WeighingCorrection,
  WeighingHistory,
  WeighingQuery,
  WeighingView,
} from '../../contract/weighings.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { anodeVisible, findAnode } from '../../db/repositories/anodes.js'
import { lockBoat } from '../../db/repositories/boats.js'
import {
  deleteWeighing,
  entriesOfWeighing,
  findWeighing,
  insertWeighing,
  lockWeighing,
  pageOfWeighings,
  updateWeighing,
  type WeighingRecord,
  weighingsOfAnodes,
} from '../../db/repositories/weighings.js'
import type { Actor } from '../actor.js'
import { merged } from '../anodes/merged.js'
import { Conflict, Invalid, NotFound } from '../errors.js'
import { expectVersion } from '../fleet/expect-version.js'
import { found } from '../fleet/visible.js'
import type { RefitRequests } from '../jobs/refit-requests.js'
import { asFieldErrors, doubtsOf, type MeasuredValues, measuredValues } from './measured-values.js'
import { weighingHistory, weighingView } from './weighing-view.js'

/** Dated masses of anodes: logged, corrected with a reason, never silently overwritten. */
export class WeighingService {
  readonly #db: Db
  readonly #refits: RefitRequests
  readonly #today: () => string

  /** @param today the server's day in UTC */
  constructor(db: Db, refits: RefitRequests, today: () => string) {
    this.#db = db
    this.#refits = refits
    this.#today = today
  }

  page(actor: Actor, query: WeighingQuery): Promise<Page<WeighingView>> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { items, nextCursor } = await pageOfWeighings(tx, actor, query)
      return { items: items.map(weighingView), nextCursor }
    })
  }

  /** @throws NotFound for an anode that the asker cannot see, where `page` would give an empty list */
  async pageOfAnode(actor: Actor, boat: string, anode: string, query: WeighingQuery): Promise<Page<WeighingView>> {
    const known = await inOrganisation(this.#db, actor, (tx) => findAnode(tx, actor, boat, anode))
    const { id } = found(known, `anode ${anode} of boat ${boat}`)
    return this.page(actor, { ...query, boat: undefined, anode: id })
  }

  /** @throws NotFound */
  read(actor: Actor, id: string): Promise<WeighingView> {
    return inOrganisation(this.#db, actor, async (tx) =>
      weighingView(found(await findWeighing(tx, actor, id), 'the weighing')),
    )
  }

  /**
   * Logs one weighing outside a haul-out: a diver's look, a forgotten one.
   *
   * @throws NotFound, Invalid with the doubts, Conflict for a second weighing on one day
   */
  create(actor: Actor, boat: string, anode: string, { confirm, ...given }: NewWeighing): Promise<WeighingView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const what = `anode ${anode} of boat ${boat}`
      const { id: anodeId, boatId } = found(await findAnode(tx, actor, boat, anode), what)
      await lockBoat(tx, actor.organisationId, boatId)
      const stored = found(await findAnode(tx, actor, boat, anodeId), what)
      const others = await weighingsOfAnodes(tx, actor.organisationId, [anodeId])
      const values = measuredValues(given, given.weighedOn)
      refuseSameDay(others, values.weighedOn)
      refuse(doubtsOf(stored, others, values, { today: this.#today(), confirm }))
      const id = await insertWeighing(tx, actor.organisationId, { ...values, anodeId })
      return (await this.#written(tx, actor, id)).weighing
    })
  }

  /**
   * Corrects what was logged. The audit trail keeps what it was, who corrected it, and why.
   *
   * @throws NotFound, Stale, Invalid with the doubts, Conflict for a day on which the anode was weighed already
   */
  correct(
    actor: Actor,
    id: string,
    version: number,
    { reason, confirm, ...change }: WeighingCorrection,
  ): Promise<CorrectedWeighing> {
    return inOrganisation(this.#db, { ...actor, reason }, async (tx) => {
      const stored = await this.#locked(tx, actor, id, version)
      const all = await weighingsOfAnodes(tx, actor.organisationId, [stored.anodeId])
      const others = all.filter((weighing) => weighing.id !== id)
      const values = merged(valuesOf(stored), change)
      refuseSameDay(others, values.weighedOn)
      refuse(doubtsOf(stored.whenFitted, others, values, { today: this.#today(), confirm }))
      await updateWeighing(tx, actor.organisationId, id, values)
      const { weighing, refit } = await this.#written(tx, actor, id)
      return { ...weighing, refit }
    })
  }

  /** @throws NotFound, Stale */
  delete(actor: Actor, id: string, version: number, reason: string): Promise<void> {
    return inOrganisation(this.#db, { ...actor, reason }, async (tx) => {
      await this.#locked(tx, actor, id, version)
      await deleteWeighing(tx, actor.organisationId, id)
      await this.#refits.request(tx, actor)
    })
  }

  /** What became of a weighing, oldest first; it outlives the weighing, not its anode. @throws NotFound */
  history(actor: Actor, id: string): Promise<WeighingHistory> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const entries = await entriesOfWeighing(tx, actor.organisationId, id)
      const last = entries.at(-1)
      const anodeId = (last?.after ?? last?.before)?.anode_id
      if (typeof anodeId !== 'string' || !(await anodeVisible(tx, actor, anodeId))) {
        throw new NotFound('the weighing')
      }
      return weighingHistory(entries)
    })
  }

  /** The weighing with its boat locked, so that its neighbours stay as they are while it is judged. */
  async #locked(tx: Db, actor: Actor, id: string, version: number): Promise<WeighingRecord> {
    const { boatId } = found(await findWeighing(tx, actor, id), 'the weighing')
    await lockBoat(tx, actor.organisationId, boatId)
    expectVersion('the weighing', await lockWeighing(tx, actor.organisationId, id), version)
    return found(await findWeighing(tx, actor, id), 'the weighing')
  }

  async #written(tx: Db, actor: Actor, id: string): Promise<{ weighing: WeighingView; refit: JobView }> {
    const refit = await this.#refits.request(tx, actor)
    return { weighing: weighingView(found(await findWeighing(tx, actor, id), 'the weighing')), refit }
  }
}

function refuse(doubts: Parameters<typeof asFieldErrors>[0]): void {
  if (doubts.length > 0) throw new Invalid(asFieldErrors(doubts))
}

function refuseSameDay(others: readonly WeighingRecord[], day: string): void {
  const other = others.find((weighing) => weighing.weighedOn === day)
  if (!other) return
  throw new Conflict(`${other.anode} was weighed on ${day} already: correct that weighing instead`, 'weighed-already')
}

function valuesOf(stored: WeighingRecord): MeasuredValues {
  return measuredValues(stored, stored.weighedOn)
}
