import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { WaitingExecutor } from '../../src/jobs/waiting-executor.js'

/** A database that fails as often as told, and then answers. */
function failing(times: number, code: string) {
  let asked = 0
  const told: string[] = []
  const executor = new WaitingExecutor(
    {
      executeSql: async () => {
        asked++
        if (asked <= times) throw Object.assign(new Error(`failure ${asked}`), { code })
        return { rows: ['row'] }
      },
    },
    (error) => told.push(error.message),
  )
  return { executor, told }
}

describe('the way of the queue to the database', () => {
  beforeEach(() => void vi.useFakeTimers())
  afterEach(() => void vi.useRealTimers())

  it.each(['ECONNREFUSED', '53100'])('waits through %s, and says so once', async (code) => {
    const { executor, told } = failing(3, code)
    executor.beginWaiting()
    const answer = executor.executeSql('select 1')
    await vi.advanceTimersByTimeAsync(5000)
    expect(await answer).toEqual({ rows: ['row'] })
    expect(told).toEqual(['failure 1'])
  })

  it('does not wait at a start, nor at a stop', async () => {
    const { executor } = failing(9, 'ECONNREFUSED')
    await expect(executor.executeSql('select 1')).rejects.toThrow('failure 1')
    executor.beginWaiting()
    const waiting = expect(executor.executeSql('select 1')).rejects.toThrow('failure 3')
    await vi.advanceTimersByTimeAsync(500)
    executor.endWaiting()
    await vi.advanceTimersByTimeAsync(1000)
    await waiting
  })

  it('passes on what is wrong with a statement', async () => {
    const { executor } = failing(1, '42601')
    executor.beginWaiting()
    await expect(executor.executeSql('selekt 1')).rejects.toThrow('failure 1')
  })
})
