import type { FeedScope } from '../../contract/calendar-feeds.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { anodesInPlace, plannedLifts } from '../../db/repositories/calendar-facts.js'
import {
  entriesOfFeed,
  type FeedRow,
  lockFeed,
  noteFeedRead,
  saveEntries,
} from '../../db/repositories/calendar-feeds.js'
import { CalendarWords } from '../../outside/calendar/calendar-words.js'
import { renderCalendar } from '../../outside/calendar/render-calendar.js'
import { addDays } from '../../presentation/calendar.js'
import { sha256 } from '../access/secrets.js'
import { utcDay } from '../dates/not-in-future.js'
import { found } from '../fleet/visible.js'
import type { IssuedFleets } from '../forecasts/issued-fleets.js'
import { calendarDrafts } from './calendar-drafts.js'
import {
  type EntryContent,
  type EntryDraft,
  PAST_SHOWN_DAYS,
  type PublishedEntry,
  publishEntries,
} from './publish-entries.js'

/** A calendar as a program reads it. */
export interface ReadFeed {
  /** The same for as long as the calendar is the same. */
  readonly tag: string
  /** Written out only for who does not have it yet: of a large fleet that takes a second. */
  text(): Promise<string>
}

/** Colours of CSS 3, as names (RFC 7986, 5.9) and for older programs: hull blue, zinc, and the waterline's red. */
const COLORS: Readonly<Record<FeedScope, { readonly name: string; readonly hex: string }>> = {
  owner: { name: 'steelblue', hex: '#4682B4' },
  yard: { name: 'firebrick', hex: '#B22222' },
  fleet: { name: 'slategray', hex: '#708090' },
}
const READ_NOTED_EVERY_MS = 60 * 60 * 1000

/** Puts a calendar together, and remembers what was given out. */
export class FeedReader {
  readonly #db: Db
  readonly #fleets: IssuedFleets
  readonly #publicUrl: string
  readonly #now: () => Date

  constructor(db: Db, fleets: IssuedFleets, publicUrl: string, now: () => Date) {
    this.#db = db
    this.#fleets = fleets
    this.#publicUrl = publicUrl.replace(/\/$/, '')
    this.#now = now
  }

  /** @throws NotFound when it was revoked meanwhile, NotComputed */
  async read(feed: FeedRow, yard: string): Promise<ReadFeed> {
    const { organisationId, scope, language } = feed
    const now = this.#now()
    const today = utcDay(now)
    const words = new CalendarWords(language)
    const drafts = await this.#drafts(feed, today, words)
    const acting = { organisationId, actor: `calendar:${feed.email}` }
    const entries = await inOrganisation(this.#db, acting, async (tx) => {
      found(await lockFeed(tx, organisationId, feed.id), 'the calendar')
      const before = (await entriesOfFeed(tx, feed)).map(entryOf)
      const { entries: published, changed } = publishEntries(before, drafts, { today, now: now.toISOString() })
      await saveEntries(tx, feed, changed)
      if (isDue(feed.lastReadAt, now)) await noteFeedRead(tx, feed, now.toISOString())
      return published
    })
    const said = words.calendar(scope, yard)
    return {
      tag: tagOf(said.name, this.#publicUrl, entries),
      text: () =>
        renderCalendar({
          ...said,
          language,
          color: COLORS[scope],
          events: entries.map(({ content: { path, ...content }, ...entry }) => ({
            ...entry,
            ...content,
            url: this.#publicUrl + path,
          })),
        }),
    }
  }

  async #drafts({ organisationId, scope, email }: FeedRow, today: string, words: CalendarWords): Promise<EntryDraft[]> {
    const { forecasts } = await this.#fleets.on(organisationId)
    const seen = { organisationId, ...(scope === 'owner' && { ownerEmail: email }) }
    const { anodes, lifts } = await inOrganisation(this.#db, { ...seen, actor: `calendar:${email}` }, async (tx) => ({
      anodes: await anodesInPlace(tx, seen),
      lifts: await plannedLifts(tx, seen, addDays(today, -PAST_SHOWN_DAYS)),
    }))
    return calendarDrafts(scope, { today, anodes, forecasts, lifts }, words)
  }
}

/** What an event says changes with its sequence alone. */
function tagOf(name: string, publicUrl: string, entries: readonly PublishedEntry[]): string {
  const parts = entries.map(({ uid, sequence, changedAt }) => `${uid} ${sequence} ${changedAt}`)
  return `"${sha256([name, publicUrl, ...parts].join('\n'))}"`
}

function entryOf(row: Awaited<ReturnType<typeof entriesOfFeed>>[number]): PublishedEntry {
  return {
    ...row,
    content: row.content as EntryContent,
    createdAt: new Date(row.createdAt).toISOString(),
    changedAt: new Date(row.changedAt).toISOString(),
  }
}

function isDue(lastReadAt: string | null, now: Date): boolean {
  return lastReadAt === null || now.getTime() - new Date(lastReadAt).getTime() >= READ_NOTED_EVERY_MS
}
