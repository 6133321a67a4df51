import type { CalendarFeedView, CalendarFeedWithLink, NewCalendarFeed } from '../../contract/calendar-feeds.js'
import type { Role } from '../../contract/vocabulary.js'
import type { Db, Handles } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  deleteFeed,
  type FeedRow,
  feedsOf,
  findFeed,
  findFeedByHash,
  insertFeed,
  lockFeed,
  renewFeed,
} from '../../db/repositories/calendar-feeds.js'
import type { MembershipService } from '../access/memberships.js'
import { makeSecret, sha256 } from '../access/secrets.js'
import type { Actor } from '../actor.js'
import { Conflict, Invalid, NotFound } from '../errors.js'
import { expectVersion } from '../fleet/expect-version.js'
import { found } from '../fleet/visible.js'
import type { FeedReader, ReadFeed } from './feed-reader.js'

/** Enough for each calendar program that somebody may have, and for every language. */
const MOST_FEEDS = 20

/** A person who asks; undefined for a program, which has no calendar. */
type Person = { readonly email: string } | undefined

/** Private links to calendars: made, renewed, taken back, and what is behind them. */
export class CalendarFeedService {
  readonly #db: Db
  readonly #across: Db
  readonly #memberships: MembershipService
  readonly #reader: FeedReader
  readonly #publicUrl: string
  readonly #now: () => Date

  constructor(
    { db, across }: Handles,
    { memberships, reader, publicUrl }: { memberships: MembershipService; reader: FeedReader; publicUrl: string },
    now: () => Date,
  ) {
    this.#db = db
    this.#across = across
    this.#memberships = memberships
    this.#reader = reader
    this.#publicUrl = publicUrl
    this.#now = now
  }

  all(actor: Actor, person: Person): Promise<CalendarFeedView[]> {
    return inOrganisation(this.#db, actor, async (tx) => {
      if (person === undefined) return []
      return (await feedsOf(tx, ownerOf(actor, person))).map(viewOf)
    })
  }

  /** @throws NotFound for a program, Invalid for what the role may not see, Conflict when there are too many */
  create(actor: Actor, person: Person, { scope, language }: NewCalendarFeed): Promise<CalendarFeedWithLink> {
    const owner = ownerOf(actor, found(person, 'a person behind this key, whose calendar it would be'))
    if (!mayRead(actor.role, scope)) {
      throw new Invalid([{ pointer: '#/scope', detail: 'an owner has the calendar of their own boats: scope owner' }])
    }
    const link = this.#newLink()
    return inOrganisation(this.#db, actor, async (tx) => {
      if ((await feedsOf(tx, owner)).length >= MOST_FEEDS) {
        throw new Conflict(`you have ${MOST_FEEDS} calendar links: revoke one first`)
      }
      const row = await insertFeed(tx, { ...owner, scope, language, ...link.kept })
      return { ...viewOf(row), link: link.url }
    })
  }

  /** Makes another link to the same calendar; the one before opens nothing from now on. @throws NotFound, Stale */
  renew(actor: Actor, person: Person, id: string, version: number): Promise<CalendarFeedWithLink> {
    const link = this.#newLink()
    return inOrganisation(this.#db, actor, async (tx) => {
      const feed = await this.#held(tx, actor, person, id, version)
      await renewFeed(tx, feed, link.kept)
      const row = found(await findFeed(tx, feed, id), 'the calendar')
      return { ...viewOf(row), link: link.url }
    })
  }

  /** @throws NotFound, Stale */
  revoke(actor: Actor, person: Person, id: string, version: number): Promise<void> {
    return inOrganisation(this.#db, actor, async (tx) => {
      await deleteFeed(tx, await this.#held(tx, actor, person, id, version))
    })
  }

  /**
   * The calendar behind a link.
   *
   * @param token of the link
   * @throws NotFound for a link that was never made, was taken back, or whose owner may not see this any more
   */
  async open(token: string): Promise<ReadFeed> {
    const feed = found(await findFeedByHash(this.#across, sha256(token)), 'the calendar')
    const memberships = await this.#memberships.ofAddress(feed.email)
    const membership = memberships.find(({ organisationId }) => organisationId === feed.organisationId)
    if (membership === undefined || !mayRead(membership.role, feed.scope)) throw new NotFound('the calendar')
    return this.#reader.read(feed, membership.organisation)
  }

  async #held(tx: Db, actor: Actor, person: Person, id: string, version: number): Promise<FeedRow> {
    const owner = ownerOf(actor, found(person, 'the calendar'))
    const feed = found(await findFeed(tx, owner, id), 'the calendar')
    expectVersion('the calendar', await lockFeed(tx, actor.organisationId, id), version)
    return feed
  }

  #newLink() {
    const token = makeSecret()
    return {
      url: `${this.#publicUrl.replace(/\/$/, '')}/v1/calendars/${token}.ics`,
      kept: { tokenSha256: sha256(token), linkMadeAt: this.#now().toISOString() },
    }
  }
}

/** An owner sees their boats; the yard and the fleet are for those who work there. */
function mayRead(role: Role, scope: NewCalendarFeed['scope']): boolean {
  return scope === 'owner' || role !== 'owner'
}

function ownerOf({ organisationId }: Actor, { email }: { readonly email: string }) {
  return { organisationId, email: email.toLowerCase() }
}

function viewOf({ id, scope, language, createdAt, linkMadeAt, lastReadAt, version }: FeedRow): CalendarFeedView {
  return {
    id,
    scope,
    language,
    createdAt: new Date(createdAt).toISOString(),
    linkMadeAt: new Date(linkMadeAt).toISOString(),
    lastReadAt: lastReadAt === null ? null : new Date(lastReadAt).toISOString(),
    version,
  }
}
