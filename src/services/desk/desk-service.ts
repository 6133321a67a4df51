import { setImmediate } from 'node:timers/promises'
import type {
  CalendarQuery,
  ComparisonQuery,
  Comparisons,
  DepletionPage,
  DepletionStrip,
  DeskBoatPage,
  DeskBoatQuery,
  DeskCalendar,
  DeskFilter,
} from '../../contract/desk.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { openFindings } from '../../db/repositories/open-findings.js'
import type { Actor } from '../actor.js'
import { pageInMemory } from '../paging/page-in-memory.js'
import { deskCalendar } from './calendar.js'
import { comparisonsOf } from './comparisons.js'
import { depletionStrip, stripMonths } from './depletion-strip.js'
import type { DeskFleet } from './desk-fleet.js'
import type { DeskFleets } from './desk-fleets.js'
import { DESK_SORT_KEYS, deskBoat, findingsByBoat, type MatchingBoat, matchingBoats } from './desk-rows.js'

/** Strips worked out at once: others are served in between. */
const STRIPS_AT_ONCE = 50

/** What the desk shows of a whole fleet. */
export class DeskService {
  readonly #db: Db
  readonly #fleets: DeskFleets

  constructor(db: Db, fleets: DeskFleets) {
    this.#db = db
    this.#fleets = fleets
  }

  /** @throws BadCursor, NotComputed */
  async boats(actor: Actor, query: DeskBoatQuery): Promise<DeskBoatPage> {
    const fleet = await this.#fleets.today(actor.organisationId)
    const matching = await this.#matching(actor, fleet, query)
    const page = inOrder(matching, query)
    return {
      asOf: fleet.asOf,
      total: matching.length,
      boats: fleet.boats.length,
      items: page.items.map(({ row }) => row),
      nextCursor: page.nextCursor,
    }
  }

  /** @throws NotComputed */
  async calendar(actor: Actor, query: CalendarQuery): Promise<DeskCalendar> {
    const fleet = await this.#fleets.today(actor.organisationId)
    return deskCalendar(fleet.asOf, await this.#matching(actor, fleet, query), query)
  }

  /** @throws BadCursor, NotComputed */
  async depletion(actor: Actor, query: DeskBoatQuery): Promise<DepletionPage> {
    const fleet = await this.#fleets.today(actor.organisationId)
    const matching = await this.#matching(actor, fleet, query)
    const page = inOrder(matching, query)
    const months = stripMonths(fleet.asOf)
    const items: DepletionStrip[] = []
    for (const [index, { boat }] of page.items.entries()) {
      if (index % STRIPS_AT_ONCE === STRIPS_AT_ONCE - 1) await setImmediate()
      items.push(depletionStrip(boat, months))
    }
    return { asOf: fleet.asOf, months: months.slice(0, -1), total: matching.length, items, nextCursor: page.nextCursor }
  }

  /** @throws NotComputed */
  async comparisons({ organisationId }: Actor, { by }: ComparisonQuery): Promise<Comparisons> {
    return comparisonsOf(await this.#fleets.today(organisationId), by)
  }

  async #matching(actor: Actor, fleet: DeskFleet, filter: DeskFilter): Promise<MatchingBoat[]> {
    const open = await inOrganisation(this.#db, actor, (tx) => openFindings(tx, actor.organisationId))
    return matchingBoats(fleet, findingsByBoat(fleet, open), filter)
  }
}

/** One page of the boats; a cursor of one list of the desk fits the others of the same order. */
function inOrder(boats: readonly MatchingBoat[], { sort, limit, cursor }: DeskBoatQuery) {
  const keyOf = DESK_SORT_KEYS[sort.replace('-', '')]!
  const rows = boats.map((boat) => ({ boat, row: deskBoat(boat) }))
  return pageInMemory(rows, { sort, keyOf: ({ row }) => keyOf(row), tiesOf: ({ row }) => [row.boat] }, limit, cursor)
}
