import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { FindingDetail, type FindingItem } from '../../src/contract/findings.js'
import { auditEntries } from '../../src/db/schema/index.js'
import { basedOn } from './ask.js'
import { type FaultyYard, kindsOf, STEPS, startFaultyYard } from './faulty-fleet.js'

let yard: FaultyYard
beforeAll(async () => {
  yard = await startFaultyYard()
})
afterAll(() => yard.close())

describe('findings', () => {
  it('say what the contract names, each fault once', async () => {
    const items = await yard.findings()
    expect(items).toHaveLength(2)
    const [slow, fast] = items as [FindingItem, FindingItem]
    expect(slow).toMatchObject({ boat: 'Boat A', anode: 'hull 3', berth: 'N1', pontoon: 'N', direction: 'slow' })
    expect(fast).toMatchObject({
      boat: 'Boat C',
      anode: null,
      scope: 'boat',
      berth: 'N3',
      direction: 'fast',
      state: 'open',
    })
    expect(fast.anodes.map(({ anode }) => anode).sort()).toEqual(['hull 3', 'shaft 3'])
    expect(fast.surprise).toBeGreaterThan(3)
    expect(slow.surprise).toBeLessThan(-3)
    for (const { causes, nextCheck, safety, since } of items) {
      const probabilities = causes.map(({ probability }) => probability)
      expect(probabilities.reduce((sum, each) => sum + each, 0)).toBeCloseTo(1, 9)
      expect(probabilities).toEqual([...probabilities].sort((a, b) => b - a))
      expect(causes[0]!.evidence.length).toBeGreaterThan(0)
      for (const { what, weight } of causes[0]!.evidence)
        expect([typeof what, typeof weight]).toEqual(['string', 'number'])
      expect(nextCheck!.outcomes.length).toBeGreaterThan(1)
      expect(Array.isArray(safety)).toBe(true)
      expect(since > '2024-01-01' && since < '2026-03-20').toBe(true)
    }
  })

  it('are read by their own address, with their life', async () => {
    const answer = await yard.findingOf('Boat C')
    expect(FindingDetail.safeParse(answer.body).error).toBeUndefined()
    expect(answer.body.events).toMatchObject([{ kind: 'opened', by: 'refit', from: null, to: 'open' }])
    expect(answer.etag).toBe(`"${answer.body.version}"`)
    expect((await yard.staff('GET', '/v1/findings/00000000-0000-4000-8000-000000000000')).status).toBe(404)
  })

  it('are the same after the same refit: nothing is told twice, and nothing enters the audit trail', async () => {
    const before = [await yard.findingOf('Boat C'), await yard.findingOf('Boat A')].map(({ body }) => body)
    const entries = () =>
      yard.server.database.db.$count(auditEntries, eq(auditEntries.organisationId, yard.server.organisationId))
    const trail = await entries()
    await yard.refit()
    const after = [await yard.findingOf('Boat C'), await yard.findingOf('Boat A')].map(({ body }) => body)
    expect(after).toEqual(before)
    expect(await entries()).toBe(trail)
  })

  it('are filtered by boat, place, state, cause and direction', async () => {
    const boats = async (query: string) => (await yard.findings(query)).map(({ boat }) => boat)
    expect(await boats('?direction=fast')).toEqual(['Boat C'])
    expect(await boats('?berth=N1')).toEqual(['Boat A'])
    expect(await boats('?pontoon=S')).toEqual(['Boat C'])
    expect(await boats('?cause=no-electrical-contact')).toEqual(['Boat A'])
    expect(await boats('?state=unsettled')).toHaveLength(2)
    expect(await boats('?state=resolved')).toEqual([])
    expect(await boats('?sort=boat')).toEqual(['Boat A', 'Boat C'])
    expect((await yard.staff('GET', '/v1/findings?colour=red')).status).toBe(400)
  })

  it('come in pages that give each once', async () => {
    const first = await yard.staff('GET', '/v1/findings?limit=1')
    const second = await yard.staff('GET', `/v1/findings?limit=1&cursor=${first.body.nextCursor}`)
    expect([first, second].map(({ body }) => body.items[0].boat)).toEqual(['Boat A', 'Boat C'])
    expect(second.body.nextCursor).toBeNull()
    expect((await yard.staff('GET', `/v1/findings?sort=since&cursor=${first.body.nextCursor}`)).status).toBe(400)
  })

  it('of a past day are what was to be found then: none before the weighings, then the same ones, as open', async () => {
    expect(await yard.findings('?asOf=2026-03-01')).toEqual([])
    const then = await yard.findings('?asOf=2026-04-01')
    const today = await yard.findings()
    expect(then.map(({ id }) => id)).toEqual(today.map(({ id }) => id))
    expect(then.map(({ asOf }) => asOf)).toEqual(['2026-04-01', '2026-04-01'])
    expect(await yard.findings('?asOf=2026-04-01')).toEqual(then)
  })

  it("show an owner their own boats' alone, and not who did what", async () => {
    const { body } = await yard.owner('GET', '/v1/findings')
    expect(body.items.map(({ boat }: FindingItem) => boat)).toEqual(['Boat A'])
    const mine = await yard.owner('GET', `/v1/findings/${body.items[0].id}`)
    expect(mine.body.events).toMatchObject([{ kind: 'opened', by: null }])
    const theirs = (await yard.findingOf('Boat C')).body.id
    expect((await yard.owner('GET', `/v1/findings/${theirs}`)).status).toBe(404)
    expect((await yard.owner('POST', `/v1/findings/${body.items[0].id}/acknowledge`, {})).status).toBe(403)
    expect((await yard.owner('GET', '/v1/pontoons/plan')).status).toBe(403)
    const past = await yard.owner('GET', '/v1/findings?asOf=2026-04-01')
    expect(past.body.items.map(({ boat }: FindingItem) => boat)).toEqual(['Boat A'])
  })

  it('are hidden from another organisation', async () => {
    const { id } = (await yard.findingOf('Boat C')).body
    expect((await yard.foreigner('GET', '/v1/findings')).body.items).toEqual([])
    expect((await yard.foreigner('GET', '/v1/findings?asOf=2026-04-01')).body.items).toEqual([])
    expect((await yard.foreigner('GET', `/v1/findings/${id}`)).status).toBe(404)
    for (const [step, body] of Object.entries(STEPS)) {
      expect((await yard.foreigner('POST', `/v1/findings/${id}/${step}`, body)).status, step).toBe(404)
    }
    expect(kindsOf(await yard.findingOf('Boat C'))).toEqual(['opened'])
  })
})

describe('the plan of the pontoons', () => {
  it('has berths by pontoon and name, their effects, the boats there and what is found', async () => {
    const made = await yard.staff('GET', '/v1/berths/N1')
    const placed = await yard.staff('PATCH', '/v1/berths/N1', { planX: 12, planY: 3 }, basedOn(made))
    expect(placed.status, JSON.stringify(placed.body)).toBe(200)
    expect((await yard.staff('PATCH', '/v1/berths/N1', { planX: null }, basedOn(placed))).status).toBe(422)
    const { body } = await yard.staff('GET', '/v1/pontoons/plan')
    expect(body.asOf).toBe('2026-06-15')
    expect(body.pontoons.map(({ pontoon }: { pontoon: string }) => pontoon)).toEqual(['N', 'S'])
    const [n1] = body.pontoons[0].berths
    expect(n1).toMatchObject({ berth: 'N1', water: 'salt', shorePower: true, planX: 12, planY: 3 })
    expect(n1.boats).toEqual(['Boat A', 'Boat E', 'Boat I'])
    expect(n1.findings).toMatchObject([{ direction: 'slow', state: 'open', cause: 'no-electrical-contact' }])
    expect(Number.isFinite(n1.effect.mean) && n1.effect.se > 0).toBe(true)
    expect(body.pontoons[1].findings).toEqual([])
    expect((await yard.foreigner('GET', '/v1/pontoons/plan')).body).toEqual({ asOf: null, pontoons: [] })
  })
})
