import { type DBSchema, type IDBPDatabase, openDB } from 'idb'
import type { OutboxEntry } from './outbox-entry.js'
import { isFull, PhoneFull } from './phone-full.js'

/** A picture that has not been sent, of a form that is being filled in or of an entry of the outbox. */
export interface StoredPhoto {
  readonly id: string
  /** `draft BOAT` or `entry ID`. */
  readonly of: string
  readonly anode: string
  readonly name: string
  readonly blob: Blob
}

interface Phone extends DBSchema {
  /** Lists, by what they are of. */
  held: { key: string; value: { readonly heldAt: string; readonly value: unknown } }
  /** Boats, by id. */
  boats: { key: string; value: { readonly id: string; readonly heldAt: string; readonly value: unknown } }
  outbox: { key: number; value: OutboxEntry }
  photos: { key: string; value: StoredPhoto; indexes: { of: string } }
}
export type PhoneStore = IDBPDatabase<Phone>

const NAME = 'anode-ledger'
const VERSION = 1

let opened: Promise<PhoneStore> | undefined

/** What this phone keeps. Opened once; an opening that failed is tried again. */
export function phoneStore(): Promise<PhoneStore> {
  opened ??= openDB<Phone>(NAME, VERSION, {
    upgrade(db) {
      db.createObjectStore('held')
      db.createObjectStore('boats', { keyPath: 'id' })
      db.createObjectStore('outbox', { keyPath: 'id', autoIncrement: true })
      db.createObjectStore('photos', { keyPath: 'id' }).createIndex('of', 'of')
    },
    // A newer version of the app in another tab goes first.
    blocking: (_current, _blocked, event) => {
      opened = undefined
      if (event.target instanceof IDBDatabase) event.target.close()
    },
    terminated: () => {
      opened = undefined
    },
  }).catch((error: unknown) => {
    opened = undefined
    throw error
  })
  return opened
}

/**
 * Writes, and where there is no room gives up what can be fetched again: boats and lists. What was entered is never given up.
 *
 * @throws PhoneFull where that was not enough
 */
export async function writeOrMakeRoom<T>(write: () => Promise<T>): Promise<T> {
  try {
    return await write()
  } catch (error) {
    if (!isFull(error)) throw error
  }
  const store = await phoneStore()
  await store.clear('boats')
  try {
    return await write()
  } catch (error) {
    throw isFull(error) ? new PhoneFull(error) : error
  }
}

/** Asks the browser to keep what is stored until somebody deletes it; it may say no, and nothing depends on it. */
export async function askToKeep(): Promise<void> {
  await navigator.storage?.persist?.().catch(() => false)
}
