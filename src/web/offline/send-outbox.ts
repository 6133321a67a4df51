import { Me } from '../../contract/organisations.js'
import { addPhoto, logHaulOut } from '../api/haul-outs.js'
import { read } from '../api/http.js'
import { changeEntry, endEntry, entriesInOrder, type Hindrance, hinder, noteProgress } from './outbox.js'
import { failureOf, nextToSend, type OutboxEntry, withLogged, withPhoto } from './outbox-entry.js'
import { phoneStore } from './store.js'

const LOCK = 'outbox'
const RETRY_MS = 30_000

let isSending = false
let isAskedAgain = false
let retry: ReturnType<typeof setTimeout> | undefined

/**
 * Sends what waits, one after the other. One tab at a time does it; each entry and photo has a key of its own, so that one
 * whose answer was lost is sent again without being logged twice.
 */
export async function sendOutbox(): Promise<void> {
  if (isSending) {
    isAskedAgain = true
    return
  }
  isSending = true
  clearTimeout(retry)
  try {
    do {
      isAskedAgain = false
      const hindrance = await alone(sendAll)
      hinder(hindrance)
      if (hindrance === 'offline' || hindrance === 'later') retry = setTimeout(() => void sendOutbox(), RETRY_MS)
    } while (isAskedAgain)
  } finally {
    isSending = false
  }
}

/** Under the browser's lock where it has one: on plain HTTP it has none, and the keys alone keep things single. */
async function alone(work: () => Promise<Hindrance>): Promise<Hindrance> {
  if (!('locks' in navigator)) return work()
  return navigator.locks.request(LOCK, work)
}

async function sendAll(): Promise<Hindrance> {
  if (!(await entriesInOrder()).some(({ state }) => state === 'queued' || state === 'sending')) return null
  try {
    const { organisation, actor } = await read(Me, '/v1/me')
    for (;;) {
      const entry = nextToSend(await entriesInOrder(), { organisationId: organisation.id, actor })
      if (entry === undefined) return null
      const hindrance = await sendEntry(entry)
      if (hindrance !== null) return hindrance
    }
  } catch (error) {
    const failure = failureOf(error)
    return typeof failure === 'string' ? failure : 'later'
  }
}

async function sendEntry(queued: OutboxEntry): Promise<Hindrance> {
  let entry: OutboxEntry = { ...queued, state: 'sending' }
  await noteProgress(entry)
  try {
    if (entry.logged === null) {
      entry = withLogged(entry, await logHaulOut(entry.boat.id, entry.body, entry.key))
      await noteProgress(entry)
    }
    for (const photo of entry.photos) {
      if (photo.state === 'queued') entry = await sendPhoto(entry, photo.id)
    }
    await endEntry(entry)
    return null
  } catch (error) {
    const failure = failureOf(error)
    if (typeof failure === 'string') {
      await noteProgress({ ...entry, state: 'queued' })
      return failure
    }
    await changeEntry({ ...entry, state: 'refused', refusal: failure })
    return null
  }
}

/** Sends one photo. One that the service refuses is marked and stays on the phone: the haul-out itself has been logged. */
async function sendPhoto(entry: OutboxEntry, id: string): Promise<OutboxEntry> {
  const store = await phoneStore()
  const photo = await store.get('photos', id)
  const mark = async (state: 'sent' | 'refused', why: string | null) => {
    const marked = withPhoto(entry, id, { state, why })
    await noteProgress(marked)
    return marked
  }
  if (photo === undefined || entry.logged === null) return mark('refused', null)
  const weighing = entry.logged.weighings.find(({ anode }) => anode === photo.anode)
  const subject = weighing ? (`weighings/${weighing.id}` as const) : (`haul-outs/${entry.logged.haulOutId}` as const)
  try {
    await addPhoto(subject, new File([photo.blob], photo.name, { type: photo.blob.type }), id)
  } catch (error) {
    const failure = failureOf(error)
    if (typeof failure === 'string') throw error
    return mark('refused', failure.detail)
  }
  const marked = await mark('sent', null)
  await store.delete('photos', id)
  return marked
}
