import { describe, expect, it } from 'vitest'
import { Turns } from '../../../src/services/photos/turns.js'

describe('turns', () => {
  it('lets no more than so many run at a time, in order, and goes on after a failure', async () => {
    const turns = new Turns(2)
    const started: number[] = []
    let running = 0
    let most = 0
    const work = (at: number) =>
      turns.take(async () => {
        started.push(at)
        most = Math.max(most, ++running)
        await new Promise((resolve) => setTimeout(resolve, 5))
        running--
        if (at % 3 === 0) throw new Error(`piece ${at}`)
        return at
      })
    const results = await Promise.allSettled(Array.from({ length: 12 }, (_, at) => work(at)))
    expect(most).toBe(2)
    expect(started).toEqual(Array.from({ length: 12 }, (_, at) => at))
    expect(results.map(({ status }) => status === 'rejected')).toEqual(started.map((at) => at % 3 === 0))
    await expect(turns.take(async () => 'still open')).resolves.toBe('still open')
  })
})
