import { isDeepStrictEqual } from 'node:util'
import { addDays } from '../../presentation/calendar.js'

/** What a calendar shows of an event. Days are 'YYYY-MM-DD'. */
export interface EntryContent {
  readonly summary: string
  readonly description: string
  readonly start: string
  /** Its last day. */
  readonly end: string
  readonly category: string
  /** A path of the app. */
  readonly path: string
}

/** An event as it stands now. */
export interface EntryDraft extends EntryContent {
  readonly uid: string
  /** Its day has come or gone: then it stays where it was put, and does not wander along with today. */
  readonly isOverdue: boolean
  /** It lies behind: then it stays as it was given out last, if its days are the same. */
  readonly isOver: boolean
}

/** An event as it was given out last. */
export interface PublishedEntry {
  readonly uid: string
  readonly sequence: number
  readonly state: 'confirmed' | 'cancelled'
  readonly content: EntryContent
  readonly createdAt: string
  readonly changedAt: string
}

export interface Publication {
  /** What the feed gives out, by day. */
  readonly entries: readonly PublishedEntry[]
  /** Those of them that differ from what was given out last. */
  readonly changed: readonly PublishedEntry[]
}

/** A calendar tells of what is over for two months more, and of what was called off for three: by then every program has read it. */
export const PAST_SHOWN_DAYS = 60
const CANCELLED_SHOWN_DAYS = 90

/**
 * Holds events against what was given out last: the sequence (RFC 5545, 3.8.7.4) rises by one when an event differs, and only then;
 * what is no longer there is called off; what comes back goes on with its sequence.
 *
 * @param today 'YYYY-MM-DD'
 * @param now instant
 */
export function publishEntries(
  before: readonly PublishedEntry[],
  drafts: readonly EntryDraft[],
  { today, now }: { readonly today: string; readonly now: string },
): Publication {
  const known = new Map(before.map((entry) => [entry.uid, entry]))
  const present = drafts.map((draft) => confirmed(draft, known.get(draft.uid), now))
  const uids = new Set(drafts.map(({ uid }) => uid))
  const absent = before.filter(({ uid }) => !uids.has(uid))
  const over = (entry: PublishedEntry) => entry.content.end < addDays(today, -PAST_SHOWN_DAYS)
  const calledOff = absent.map((entry) =>
    entry.state === 'cancelled' || over(entry) ? entry : next(entry, { ...entry, state: 'cancelled' }, now),
  )
  const shownSince = addDays(now.slice(0, 10), -CANCELLED_SHOWN_DAYS)
  const shown = calledOff.filter((entry) => !over(entry) && entry.changedAt.slice(0, 10) >= shownSince)
  return {
    entries: [...present, ...shown].sort((a, b) => compare(a.content.start, b.content.start) || compare(a.uid, b.uid)),
    changed: [...present, ...calledOff].filter((entry) => entry !== known.get(entry.uid)),
  }
}

function confirmed(draft: EntryDraft, known: PublishedEntry | undefined, now: string): PublishedEntry {
  const { uid, isOverdue, isOver, ...drawn } = draft
  const stays = isOverdue && known !== undefined && known.content.start <= drawn.start
  const content: EntryContent = stays ? { ...drawn, start: known.content.start, end: known.content.end } : drawn
  if (known !== undefined && isOver && isAsBefore(drawn, known)) return known
  if (known === undefined) return { uid, sequence: 0, state: 'confirmed', content, createdAt: now, changedAt: now }
  return next(known, { ...known, state: 'confirmed', content }, now)
}

function isAsBefore({ start, end }: EntryContent, { state, content }: PublishedEntry): boolean {
  return state === 'confirmed' && start === content.start && end === content.end
}

/** The same entry where nothing has changed. */
function next(known: PublishedEntry, wanted: PublishedEntry, now: string): PublishedEntry {
  if (wanted.state === known.state && isDeepStrictEqual(wanted.content, known.content)) return known
  return { ...wanted, sequence: known.sequence + 1, changedAt: now }
}

function compare(a: string, b: string): number {
  if (a === b) return 0
  return a < b ? -1 : 1
}
