import type { z } from 'zod'
import type { LoggedHaulOut, NewHaulOut } from '../../contract/haul-outs.js'
import { type FieldProblem, ServiceProblem, Unreachable } from '../api/problem.js'
import type { HaulOutDraft } from '../pages/haul-out/draft.js'

/** Who logged, and for whom: it is sent as nobody else. */
export interface Author {
  readonly organisationId: string
  readonly actor: string
}

export interface PhotoOfEntry {
  readonly id: string
  readonly anode: string
  readonly state: 'queued' | 'sent' | 'refused'
  readonly why: string | null
}

/** Why an entry was not taken, by what can be done about it. */
export interface Refusal {
  readonly kind: 'mend' | 'conflict' | 'boat-gone' | 'not-allowed'
  readonly detail: string
  readonly fields: readonly FieldProblem[]
}

/** What the service made of an entry. */
export interface LoggedEntry {
  readonly haulOutId: string
  readonly weighings: readonly { readonly anode: string; readonly id: string }[]
  /** The anodes that somebody else had logged at the same lift. */
  readonly others: readonly string[]
}

/** One haul-out on its way from this phone to the service. Rising ids are the order in which they are sent. */
export interface OutboxEntry {
  readonly id: number
  /** Names this haul-out to the service, however often it is sent. */
  readonly key: string
  readonly boat: { readonly id: string; readonly name: string }
  readonly author: Author
  readonly body: z.input<typeof NewHaulOut>
  /** Anodes in the order of the body's weighings. */
  readonly anodes: readonly string[]
  /** As it was typed, to be opened again. */
  readonly draft: HaulOutDraft
  /** What was found, sentence by sentence, as it was read out. */
  readonly readOut: readonly string[]
  /** Keys of what it calls for. */
  readonly cautions: readonly string[]
  readonly photos: readonly PhotoOfEntry[]
  readonly queuedAt: string
  readonly state: 'queued' | 'sending' | 'sent' | 'refused'
  readonly refusal: Refusal | null
  readonly logged: LoggedEntry | null
  readonly sentAt: string | null
}

/** Whether an entry waits for an earlier one of its boat: a weighing is judged by those before it. */
export function waitsForEarlier(entry: OutboxEntry, entries: readonly OutboxEntry[]): boolean {
  return entries.some(({ id, boat, state }) => id < entry.id && boat.id === entry.boat.id && state === 'refused')
}

/**
 * The entry to send next, in the order they were logged: a refused one keeps back only its own boat's.
 *
 * @param entries in rising order of their ids
 */
export function nextToSend(entries: readonly OutboxEntry[], by: Author): OutboxEntry | undefined {
  return entries.find(
    (entry) =>
      (entry.state === 'queued' || entry.state === 'sending') && isBy(entry, by) && !waitsForEarlier(entry, entries),
  )
}

export function isBy({ author }: OutboxEntry, { organisationId, actor }: Author): boolean {
  return author.organisationId === organisationId && author.actor === actor
}

/** What an attempt that failed means: try again when something else has changed, or this entry was refused. */
export type Failure = 'offline' | 'signed-out' | 'later' | Refusal

const UNAUTHENTICATED = 401
const FORBIDDEN = 403
const NOT_FOUND = 404
const CONFLICT = 409
const TOO_MANY = 429

/** Reads a failed attempt. Anything that is not a clear refusal of this entry is tried again. */
export function failureOf(error: unknown): Failure {
  if (error instanceof Unreachable) return 'offline'
  if (!(error instanceof ServiceProblem)) return 'later'
  const { status, code, message: detail, fields } = error
  if (status === UNAUTHENTICATED) return 'signed-out'
  if (status === FORBIDDEN) return { kind: 'not-allowed', detail, fields }
  if (status === NOT_FOUND) return { kind: 'boat-gone', detail, fields }
  if (status === CONFLICT && code === 'logged-differently') return { kind: 'conflict', detail, fields }
  if (status === CONFLICT || status === TOO_MANY || status >= 500) return 'later'
  return { kind: 'mend', detail, fields }
}

/** An entry that was answered: taken, though its photos may still be on their way. */
export function withLogged(entry: OutboxEntry, { id, weighings }: LoggedHaulOut): OutboxEntry {
  const others = weighings.filter(({ anode }) => !entry.anodes.includes(anode)).map(({ anode }) => anode)
  const own = weighings.map(({ anode, id: weighing }) => ({ anode, id: weighing }))
  return { ...entry, state: 'sending', refusal: null, logged: { haulOutId: id, weighings: own, others } }
}

export function withPhoto(entry: OutboxEntry, id: string, part: Pick<PhotoOfEntry, 'state' | 'why'>): OutboxEntry {
  return { ...entry, photos: entry.photos.map((photo) => (photo.id === id ? { ...photo, ...part } : photo)) }
}

/** How many of the outbox still want something: the phone's network, or its holder. */
export function countWaiting(entries: readonly OutboxEntry[]): { waiting: number; refused: number } {
  const waiting = entries.filter(({ state }) => state === 'queued' || state === 'sending').length
  return { waiting, refused: entries.filter(({ state }) => state === 'refused').length }
}
