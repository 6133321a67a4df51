import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { hasMoved, movedForecasts } from '../../src/services/webhooks/moved-forecasts.js'
import { forecastOf } from '../web/forecast-of.js'
import { type Ask, askAs, basedOn } from './ask.js'
import { type FaultyYard, startFaultyYard } from './faulty-fleet.js'

let yard: FaultyYard
let administrator: Ask
let webhook: string

beforeAll(async () => {
  yard = await startFaultyYard()
  administrator = askAs(yard.server, await yard.server.actorOf('administrator'))
  const events = [
    'haul-out.recorded',
    'haul-out.changed',
    'haul-out.deleted',
    'forecast.issued',
    'forecast.moved',
    'finding.opened',
    'finding.changed',
  ]
  const made = await administrator('POST', '/v1/webhooks', { name: 'Office', url: 'https://office.invalid/', events })
  webhook = made.body.id
})
afterAll(() => yard.close())

/** What waits to be sent, oldest first: event and data. */
async function told(event: string): Promise<{ type: string; data: Record<string, unknown> }[]> {
  const { body } = await administrator('GET', `/v1/webhooks/${webhook}/deliveries?limit=200&sort=createdAt`)
  const bodies = body.items
    .filter((item: { event: string }) => item.event === event)
    .map(async ({ id }: { id: string }) => {
      const detail = await administrator('GET', `/v1/webhooks/${webhook}/deliveries/${id}`)
      return JSON.parse(detail.body.body)
    })
  return Promise.all(bodies)
}

describe('what is told', () => {
  it('is a haul-out that was logged, planned anew, or dropped, as the API shows it; once', async () => {
    const body = { hauledOn: '2026-08-01', planned: true }
    const planned = await yard.staff('POST', '/v1/boats/Boat%20B/haul-outs', body)
    expect(planned.status).toBe(201)
    await yard.staff('POST', '/v1/boats/Boat%20B/haul-outs', body)
    const path = `/v1/haul-outs/${planned.body.id}`
    const moved = await yard.staff('PATCH', path, { hauledOn: '2026-08-08' }, basedOn(planned))
    expect(moved.status).toBe(200)
    expect((await yard.staff('DELETE', path, undefined, basedOn(moved))).status).toBe(204)
    const [recorded, ...again] = await told('haul-out.recorded')
    expect(recorded!.data).toMatchObject({ boat: 'Boat B', hauledOn: '2026-08-01', planned: true, weighings: [] })
    expect(again).toEqual([])
    expect(await told('haul-out.changed')).toMatchObject([{ data: { id: planned.body.id, hauledOn: '2026-08-08' } }])
    expect(await told('haul-out.deleted')).toMatchObject([{ data: { id: planned.body.id, boat: 'Boat B' } }])
  })

  it('is no haul-out that was refused', async () => {
    const before = await told('haul-out.recorded')
    const refused = await yard.staff('POST', '/v1/boats/Boat%20B/haul-outs', {
      hauledOn: '2026-04-01',
      weighings: [{ anode: 'no such anode', massG: 500 }],
    })
    expect(refused.status).toBe(422)
    expect(await told('haul-out.recorded')).toEqual(before)
  })

  it('is a step in the life of a finding', async () => {
    const finding = await yard.findingOf('Boat C')
    const path = `/v1/findings/${finding.body.id}/acknowledge`
    expect((await yard.staff('POST', path, { note: 'seen at the lift' })).status).toBe(200)
    expect(await told('finding.changed')).toMatchObject([
      {
        data: {
          id: finding.body.id,
          boat: 'Boat C',
          state: 'acknowledged',
          step: { kind: 'acknowledged', from: 'open', to: 'acknowledged', note: 'seen at the lift' },
        },
      },
    ])
  })

  it('is what a refit issues, what it moves, and what it finds', async () => {
    // Boat F, so far like the others, has lost nearly all of an anode a month after it was weighed.
    const logged = await yard.staff('POST', '/v1/boats/Boat%20F/haul-outs', {
      hauledOn: '2026-06-01',
      weighings: [{ anode: 'hull 3', massG: 130, resolutionG: 1, cleaned: true }],
    })
    expect(logged.status, JSON.stringify(logged.body)).toBe(201)
    await yard.refit()
    const [issued] = await told('forecast.issued')
    expect(issued!.data).toMatchObject({ asOf: '2026-06-15', of: 'fleet', anodes: 24, boats: null })
    const moved = await told('forecast.moved')
    const boats = moved.map(({ data }) => data.boat)
    expect(boats).toContain('Boat F')
    expect(new Set(boats).size).toBe(boats.length)
    const ofF = moved.find(({ data }) => data.boat === 'Boat F')!.data.anodes as Record<string, unknown>[]
    expect(ofF).toContainEqual(expect.objectContaining({ anode: 'hull 3' }))
    const opened = await told('finding.opened')
    expect(opened.map(({ data }) => data.boat)).toContain('Boat F')
    expect(opened[0]!.data).toMatchObject({ state: 'open', step: { kind: 'opened', from: null, to: 'open' } })
  })

  it('is nothing that a second refit of the same data finds again', async () => {
    const before = [await told('forecast.moved'), await told('finding.opened')]
    yard.setNow('2026-06-15T10:05:00Z')
    await yard.refit()
    expect([await told('forecast.moved'), await told('finding.opened')]).toEqual(before)
    expect(await told('forecast.issued')).toHaveLength(2)
  })
})

describe('a forecast has moved', () => {
  const before = { p10: '2031-04-01', p90: '2031-07-01' }
  it.each([
    ['2031-03-31', true],
    ['2031-04-01', false],
    ['2031-07-01', false],
    ['2031-07-02', true],
    [null, true],
  ])('when its middle is on %s: %s', (p50, moved) => {
    expect(hasMoved(before, { p50 })).toBe(moved)
  })

  it('from never to a date, and not from never to never', () => {
    expect(hasMoved({ p10: null, p90: null }, { p50: '2040-01-01' })).toBe(true)
    expect(hasMoved({ p10: '2050-01-01', p90: null }, { p50: null })).toBe(false)
    expect(hasMoved({ p10: null, p90: null }, { p50: null })).toBe(false)
  })

  it('not when there was none before', () => {
    expect(movedForecasts(new Map(), [{ anodeId: 'a', item: forecastOf({}) }])).toEqual([])
  })
})
