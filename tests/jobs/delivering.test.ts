import { afterEach, describe, expect, it, vi } from 'vitest'
import { Delivering } from '../../src/jobs/delivering.js'

afterEach(() => void vi.useRealTimers())

/** Sends what it is told that there is, so many a round. */
class Sender {
  readonly rounds: number[] = []
  readonly #due: (number | Error)[]

  constructor(due: (number | Error)[]) {
    this.#due = due
  }

  async deliverDue(): Promise<number> {
    const next = this.#due.shift() ?? 0
    if (next instanceof Error) throw next
    this.rounds.push(next)
    return next
  }
}

describe('delivering', () => {
  it('goes on while there is something due, and looks again a second later', async () => {
    vi.useFakeTimers()
    const sender = new Sender([10, 10, 3, 0, 2, 0])
    const delivering = new Delivering(sender, () => {})
    await vi.advanceTimersByTimeAsync(1_000)
    expect(sender.rounds).toEqual([10, 10, 3, 0])
    await vi.advanceTimersByTimeAsync(1_000)
    expect(sender.rounds).toEqual([10, 10, 3, 0, 2, 0])
    await delivering.stop()
  })

  it('tells of a round that failed, and tries the next one', async () => {
    vi.useFakeTimers()
    const told: string[] = []
    const sender = new Sender([new Error('the database is away'), 1, 0])
    const delivering = new Delivering(sender, ({ message }) => told.push(message))
    await vi.advanceTimersByTimeAsync(2_000)
    expect(told).toEqual(['the database is away'])
    expect(sender.rounds).toEqual([1, 0])
    await delivering.stop()
  })

  it('ends after the round that it is in', async () => {
    vi.useFakeTimers()
    let finish: (count: number) => void = () => {}
    let rounds = 0
    const slow = {
      deliverDue: () => {
        rounds++
        return new Promise<number>((done) => {
          finish = done
        })
      },
    }
    const delivering = new Delivering(slow, () => {})
    await vi.advanceTimersByTimeAsync(5_000)
    expect(rounds).toBe(1)
    let isStopped = false
    const stopped = delivering.stop().then(() => {
      isStopped = true
    })
    await vi.advanceTimersByTimeAsync(1_000)
    expect(isStopped).toBe(false)
    finish(5)
    await stopped
    expect(rounds).toBe(1)
  })
})
