import { describe, expect, it } from 'vitest'
import type { Db } from '../../../src/db/client.js'
import type { PhotoStore } from '../../../src/outside/photo-store.js'
import { Readiness } from '../../../src/services/access/readiness.js'

const LIMITS = { limitMs: 30, keptMs: 1_000 }
const silence = () => new Promise<never>(() => {})

/** Both parts as a test has them answer; counts how often the database was asked. */
function readinessOf(parts: { database?: () => Promise<unknown>; photoStore?: () => Promise<void> }) {
  const { database = async () => undefined, photoStore = async () => {} } = parts
  const clock = { at: 0, asked: 0 }
  const execute = () => {
    clock.asked++
    return database()
  }
  const db = { execute } as unknown as Db
  const store = { answers: photoStore } as unknown as PhotoStore
  return { clock, readiness: new Readiness(db, store, () => new Date(clock.at), LIMITS) }
}

describe('readiness', () => {
  it('names nothing where each part answers', async () => {
    expect(await readinessOf({}).readiness.away()).toEqual([])
  })

  it('names the part that fails, and the one that is silent for longer than the limit', async () => {
    const refuses = async () => {
      throw new Error('no')
    }
    expect(await readinessOf({ photoStore: refuses }).readiness.away()).toEqual(['the photo store'])
    expect(await readinessOf({ database: silence }).readiness.away()).toEqual(['the database'])
    const both = readinessOf({ database: silence, photoStore: silence })
    expect(await both.readiness.away()).toEqual(['the database', 'the photo store'])
  })

  it('asks once for all who want to know at about the same time', async () => {
    const { clock, readiness } = readinessOf({})
    await Promise.all([readiness.away(), readiness.away()])
    clock.at += LIMITS.keptMs - 1
    await readiness.away()
    expect(clock.asked).toBe(1)
    clock.at += 1
    await readiness.away()
    expect(clock.asked).toBe(2)
  })

  it('puts no second question to a database that has not answered the first', async () => {
    let answer: (value: unknown) => void = () => {}
    const late = new Promise((resolve) => {
      answer = resolve
    })
    const { clock, readiness } = readinessOf({ database: () => late })
    for (let round = 0; round < 3; round++) {
      expect(await readiness.away()).toEqual(['the database'])
      clock.at += LIMITS.keptMs
    }
    expect(clock.asked).toBe(1)
    answer(undefined)
    expect(await readiness.away()).toEqual([])
  })
})
