import { setTimeout as wait } from 'node:timers/promises'
import { describe, expect, it } from 'vitest'
import { runAskedBy } from '../../src/telemetry/asked-by.js'
import { type SlowStatement, StatementWatch } from '../../src/telemetry/statement-watch.js'

function watchFrom(slowMs: number | undefined) {
  const told: SlowStatement[] = []
  return { told, watch: new StatementWatch({ slowMs, onSlow: (statement) => told.push(statement) }) }
}

describe('the watch on statements', () => {
  it('tells the slow ones alone, with who asked', async () => {
    const { told, watch } = watchFrom(40)
    await runAskedBy({ requestId: 'r-1', jobId: 'j-1' }, async () => {
      await watch.during('select 1', async () => {})
      await watch.during('select $1', () => wait(60))
    })
    expect(told).toEqual([{ text: 'select $1', durationMs: expect.any(Number), requestId: 'r-1', jobId: 'j-1' }])
    expect(told[0]!.durationMs).toBeGreaterThanOrEqual(40)
  })

  it('tells one that failed, and lets its failure through', async () => {
    const { told, watch } = watchFrom(0)
    const failure = new Error('no')
    await expect(watch.during('update boats', () => Promise.reject(failure))).rejects.toBe(failure)
    expect(told.map(({ text }) => text)).toEqual(['update boats'])
  })

  it('tells none where none is called slow', async () => {
    const { told, watch } = watchFrom(undefined)
    await watch.during('select 1', () => wait(5))
    expect(told).toEqual([])
  })

  it('cuts a statement that is as long as its rows are many', async () => {
    const { told, watch } = watchFrom(0)
    await watch.during(`insert into weighings values ${'($1, $2), '.repeat(1000)}`, async () => {})
    expect(told[0]!.text).toMatch(/^insert into weighings .*…$/)
    expect(told[0]!.text.length).toBeLessThan(4_100)
  })
})
