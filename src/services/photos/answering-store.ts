import { outOfService } from '../../db/out-of-service.js'
import type { PhotoStore } from '../../outside/photo-store.js'
import { outgoing } from '../../telemetry/outgoing.js'
import { PartAway } from '../errors.js'

/** As people are told of it. */
export const PHOTO_STORE = 'the photo store'

/**
 * A photo store whose failures say that it was the store: a bucket that is away fails with the same codes as a database that is. A disk that
 * is full stays what it is. Each call has a span, which does not name the photo.
 */
export function answeringStore(store: PhotoStore): PhotoStore {
  const told = <Answer>(what: string, work: () => Promise<Answer>): Promise<Answer> =>
    outgoing('photo store', `${what} photo`, {}, work).catch(refuse)
  return {
    put: (...given) => told('put', () => store.put(...given)),
    get: (key) => told('get', () => store.get(key)),
    has: (key) => told('has', () => store.has(key)),
    delete: (key) => told('delete', () => store.delete(key)),
    storedAt: (key) => told('date', () => store.storedAt(key)),
    answers: () => store.answers().catch(refuse),
    keys: () => keysOf(store),
  }
}

async function* keysOf(store: PhotoStore): AsyncIterable<string> {
  try {
    yield* store.keys()
  } catch (error) {
    refuse(error)
  }
}

function refuse(error: unknown): never {
  if (outOfService(error) === 'full') throw error
  throw new PartAway(PHOTO_STORE, error)
}
