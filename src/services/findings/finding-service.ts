import type { FindingDetail, FindingItem, FindingPage, FindingQuery } from '../../contract/findings.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  type FindingRow,
  findFinding,
  findingsOf,
  namedAnodes,
  namesOfBoats,
  stepsOfFinding,
} from '../../db/repositories/findings.js'
import type { Actor } from '../actor.js'
import { utcDay } from '../dates/not-in-future.js'
import { NotFound } from '../errors.js'
import { found } from '../fleet/visible.js'
import type { IssuedFleets } from '../forecasts/issued-fleets.js'
import {
  findingDetail,
  findingItem,
  type TellableFinding,
  type VisibleNames,
  withoutEvidence,
} from './finding-items.js'
import { pageOfFindings } from './finding-order.js'
import { findingsAsOf } from './findings-as-of.js'

/** Findings as they are kept, or as they would have been on another day. */
export class FindingService {
  readonly #db: Db
  readonly #fleets: IssuedFleets
  readonly #now: () => Date

  constructor(db: Db, fleets: IssuedFleets, now: () => Date) {
    this.#db = db
    this.#fleets = fleets
    this.#now = now
  }

  /** @throws BadCursor, NotComputed */
  async page(actor: Actor, query: FindingQuery): Promise<FindingPage> {
    const findings = await this.#asOf(actor, query.asOf)
    const names = await inOrganisation(this.#db, actor, (tx) => namesFor(tx, actor, findings))
    const items = findings
      .flatMap((finding) => findingItem(finding, names) ?? [])
      .filter((item) => matches(item, query))
    const page = pageOfFindings(items, query.sort, query.limit, query.cursor)
    return query.evidence === 'none' ? { ...page, items: page.items.map(withoutEvidence) } : page
  }

  /** @throws NotFound */
  read(actor: Actor, id: string): Promise<FindingDetail> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const finding = found(await findFinding(tx, actor.organisationId, id), 'the finding')
      const names = await namesFor(tx, actor, [finding])
      const item = findingItem(finding, names)
      if (item === undefined) throw new NotFound('the finding')
      return findingDetail(item, finding, await stepsOfFinding(tx, actor.organisationId, id), names)
    })
  }

  async #asOf(actor: Actor, asOf: string | undefined): Promise<readonly TellableFinding[]> {
    const { organisationId } = actor
    const kept: FindingRow[] = await inOrganisation(this.#db, actor, (tx) => findingsOf(tx, organisationId))
    if (asOf === undefined || asOf === utcDay(this.#now())) return kept
    const { seen } = await this.#fleets.on(organisationId, asOf)
    return seen === null ? kept : findingsAsOf(organisationId, asOf, seen, kept)
  }
}

async function namesFor(tx: Db, actor: Actor, findings: readonly TellableFinding[]): Promise<VisibleNames> {
  const ids = new Set(findings.flatMap(({ detail }) => detail.diagnosis.anomaly.anodes))
  const anodes = await namedAnodes(tx, actor, [...ids])
  return {
    anodes: new Map(anodes.map((anode) => [anode.id, anode])),
    boats: await namesOfBoats(tx, actor),
    isPartial: actor.ownerEmail !== undefined,
  }
}

function matches(item: FindingItem, { state, boat, berth, pontoon, cause, direction }: FindingQuery): boolean {
  return (
    isInState(item, state) &&
    (boat === undefined || item.boat === boat || item.anodes.some((anode) => anode.boat === boat)) &&
    (berth === undefined || item.berth === berth) &&
    (pontoon === undefined || item.pontoon === pontoon) &&
    (cause === undefined || item.causes[0]?.cause === cause) &&
    (direction === undefined || item.direction === direction)
  )
}

function isInState({ state }: FindingItem, wanted: FindingQuery['state']): boolean {
  if (wanted === undefined) return state !== 'closed'
  return wanted === 'unsettled' ? state !== 'resolved' && state !== 'closed' : state === wanted
}
