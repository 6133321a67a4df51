import type { OutboxEntry, PhotoOfEntry } from './outbox-entry.js'
import { PhoneFull } from './phone-full.js'
import { serviceNow } from './service-clock.js'
import { askToKeep, phoneStore, type StoredPhoto, writeOrMakeRoom } from './store.js'

/** Sent entries that stay to be looked at. */
const SENT_SHOWN = 20

/** What keeps the outbox from being sent; null while nothing does. */
export type Hindrance = 'offline' | 'signed-out' | 'later' | null

export interface Outbox {
  readonly entries: readonly OutboxEntry[]
  readonly hindrance: Hindrance
  /** False until the phone's store has been read. */
  readonly isRead: boolean
}

let current: Outbox = { entries: [], hindrance: null, isRead: false }
const listeners = new Set<() => void>()
const otherTabs = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel('outbox')
otherTabs?.addEventListener('message', () => void readAgain())

/** The outbox as it was last read; the same object until it changes. */
export function outboxNow(): Outbox {
  return current
}

export function onOutboxChange(listener: () => void): () => void {
  listeners.add(listener)
  if (!current.isRead) void readAgain()
  return () => listeners.delete(listener)
}

export function hinder(hindrance: Hindrance): void {
  if (current.hindrance === hindrance) return
  current = { ...current, hindrance }
  for (const listener of listeners) listener()
}

async function readAgain(): Promise<void> {
  const entries = await (await phoneStore()).getAll('outbox')
  current = { ...current, entries, isRead: true }
  for (const listener of listeners) listener()
}

/** Tells this tab and the others that the outbox has changed. */
async function tellAll(): Promise<void> {
  otherTabs?.postMessage('changed')
  await readAgain()
}

export type NewEntry = Omit<OutboxEntry, 'id' | 'photos' | 'queuedAt' | 'state' | 'refusal' | 'logged' | 'sentAt'>

/**
 * Puts a haul-out into the outbox, with the photos of its form: all of it or nothing. An entry that is mended keeps its place.
 *
 * @returns the entry's id
 * @throws PhoneFull; the form is as it was
 */
export async function putIntoOutbox(entry: NewEntry, photosOf: string, mends?: number): Promise<number> {
  const id = await writeOrMakeRoom(async () => {
    const tx = (await phoneStore()).transaction(['outbox', 'photos'], 'readwrite')
    const outbox = tx.objectStore('outbox')
    const before = mends === undefined ? undefined : await outbox.get(mends)
    const photos = await tx.objectStore('photos').index('of').getAll(photosOf)
    const made: Omit<OutboxEntry, 'id'> = {
      ...entry,
      photos: photos.map(asQueued),
      queuedAt: serviceNow().toISOString(),
      state: 'queued',
      refusal: null,
      logged: null,
      sentAt: null,
    }
    // Without an id the store gives the next one.
    const key = await outbox.put((before ? { ...made, id: before.id } : made) as OutboxEntry)
    for (const photo of photos) await tx.objectStore('photos').put({ ...photo, of: ofEntry(key) })
    await tx.done
    return key
  })
  void askToKeep()
  await tellAll()
  return id
}

function asQueued({ id, anode }: StoredPhoto): PhotoOfEntry {
  return { id, anode, state: 'queued', why: null }
}

export function ofEntry(id: number): string {
  return `entry ${id}`
}

export function ofDraft(boat: string): string {
  return `draft ${boat}`
}

export async function entriesInOrder(): Promise<OutboxEntry[]> {
  return (await phoneStore()).getAll('outbox')
}

/** Writes an entry's new state, unless it has been taken out meanwhile. @throws PhoneFull; the entry is as it was */
export async function changeEntry(entry: OutboxEntry): Promise<void> {
  await writeOrMakeRoom(async () => {
    const tx = (await phoneStore()).transaction('outbox', 'readwrite')
    if ((await tx.store.getKey(entry.id)) !== undefined) await tx.store.put(entry)
    await tx.done
  })
  await tellAll()
}

/** The same on the way to the service: a full phone goes on sending, for what was sent makes room. */
export async function noteProgress(entry: OutboxEntry): Promise<void> {
  try {
    await changeEntry(entry)
  } catch (error) {
    if (!(error instanceof PhoneFull)) throw error
  }
}

/** Marks an entry as sent, and forgets the oldest of those that went whole; where there is no room to mark it, it goes itself. */
export async function endEntry(entry: OutboxEntry): Promise<void> {
  try {
    await changeEntry({ ...entry, state: 'sent', sentAt: serviceNow().toISOString() })
  } catch (error) {
    if (!(error instanceof PhoneFull)) throw error
    return takeOut(entry.id)
  }
  const sent = (await entriesInOrder()).filter(
    ({ state, photos }) => state === 'sent' && photos.every((photo) => photo.state === 'sent'),
  )
  for (const { id } of sent.slice(0, -SENT_SHOWN)) await takeOut(id)
}

/** Takes an entry out of the outbox with its photos. What was not sent is gone with it. */
export async function takeOut(id: number): Promise<void> {
  const tx = (await phoneStore()).transaction(['outbox', 'photos'], 'readwrite')
  await tx.objectStore('outbox').delete(id)
  for (const key of await tx.objectStore('photos').index('of').getAllKeys(ofEntry(id))) {
    await tx.objectStore('photos').delete(key)
  }
  await tx.done
  await tellAll()
}

/** Gives an entry's photos back to the form that mends it. */
export async function photosBackToDraft(id: number, boat: string): Promise<void> {
  const tx = (await phoneStore()).transaction('photos', 'readwrite')
  for (const photo of await tx.store.index('of').getAll(ofEntry(id)))
    await tx.store.put({ ...photo, of: ofDraft(boat) })
  await tx.done
}
