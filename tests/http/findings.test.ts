import { and, eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { FindingDetail, type FindingItem } from '../../src/contract/findings.js'
import { auditEntries } from '../../src/db/schema/index.js'
import { FittedFleets } from '../../src/services/model/fitted-fleets.js'
import { RefitService } from '../../src/services/model/refit.js'
import { type Answer, type Ask, askAs, basedOn } from './ask.js'
import { faultyFleetFiles } from './faulty-fleet.js'
import { startTestServer, type TestServer } from './server.js'
import { importFleet } from './small-fleet.js'

let now = new Date('2026-06-15T10:00:00Z')
const engine = new FittedFleets()

let server: TestServer
let abroad: TestServer
let staff: Ask
let manager: Ask
let owner: Ask
let foreigner: Ask

const refit = () =>
  new RefitService(server.database.db, engine, () => now, 0).refit(server.organisationId, async () => {})

/** Both anodes of Boat C went fast in the last interval; one of Boat A, the test's owner's, hardly went at all. */
const LOSSES = { 'Boat C/shaft 3': 900, 'Boat C/hull 3': 850, 'Boat A/hull 3': 10 }

beforeAll(async () => {
  server = await startTestServer({ now: () => now })
  abroad = await startTestServer({ database: server.database, now: () => now })
  staff = askAs(server, await server.actorOf('staff'))
  manager = askAs(server, await server.actorOf('manager'))
  owner = askAs(server, await server.actorOf('owner'))
  foreigner = askAs(abroad, await abroad.actorOf('administrator'))
  await importFleet(server, faultyFleetFiles(server.ownerEmail, LOSSES))
  await refit()
})
afterAll(async () => {
  await abroad.app.close()
  await server.close()
})

async function findings(query = ''): Promise<FindingItem[]> {
  const { status, body } = await staff('GET', `/v1/findings${query}`)
  expect(status, JSON.stringify(body)).toBe(200)
  return body.items
}

async function findingOf(boat: string): Promise<Answer> {
  const [item] = await findings(`?boat=${encodeURIComponent(boat)}`)
  return staff('GET', `/v1/findings/${item!.id}`)
}

const kindsOf = ({ body }: Answer) => body.events.map(({ kind }: { kind: string }) => kind)

describe('findings', () => {
  it('say what the contract names, each fault once', async () => {
    const items = await findings()
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
    const answer = await findingOf('Boat C')
    expect(FindingDetail.safeParse(answer.body).error).toBeUndefined()
    expect(answer.body.events).toMatchObject([{ kind: 'opened', by: 'refit', from: null, to: 'open' }])
    expect(answer.etag).toBe(`"${answer.body.version}"`)
    expect((await staff('GET', '/v1/findings/00000000-0000-4000-8000-000000000000')).status).toBe(404)
  })

  it('are the same after the same refit: nothing is told twice, and nothing enters the audit trail', async () => {
    const before = [await findingOf('Boat C'), await findingOf('Boat A')].map(({ body }) => body)
    const entries = () =>
      server.database.db.$count(auditEntries, eq(auditEntries.organisationId, server.organisationId))
    const trail = await entries()
    await refit()
    const after = [await findingOf('Boat C'), await findingOf('Boat A')].map(({ body }) => body)
    expect(after).toEqual(before)
    expect(await entries()).toBe(trail)
  })

  it('are filtered by boat, place, state, cause and direction', async () => {
    const boats = async (query: string) => (await findings(query)).map(({ boat }) => boat)
    expect(await boats('?direction=fast')).toEqual(['Boat C'])
    expect(await boats('?berth=N1')).toEqual(['Boat A'])
    expect(await boats('?pontoon=S')).toEqual(['Boat C'])
    expect(await boats('?cause=no-electrical-contact')).toEqual(['Boat A'])
    expect(await boats('?state=unsettled')).toHaveLength(2)
    expect(await boats('?state=resolved')).toEqual([])
    expect(await boats('?sort=boat')).toEqual(['Boat A', 'Boat C'])
    expect((await staff('GET', '/v1/findings?colour=red')).status).toBe(400)
  })

  it('come in pages that give each once', async () => {
    const first = await staff('GET', '/v1/findings?limit=1')
    const second = await staff('GET', `/v1/findings?limit=1&cursor=${first.body.nextCursor}`)
    expect([first, second].map(({ body }) => body.items[0].boat)).toEqual(['Boat A', 'Boat C'])
    expect(second.body.nextCursor).toBeNull()
    expect((await staff('GET', `/v1/findings?sort=since&cursor=${first.body.nextCursor}`)).status).toBe(400)
  })

  it('of a past day are what was to be found then: none before the weighings, then the same ones, as open', async () => {
    expect(await findings('?asOf=2026-03-01')).toEqual([])
    const then = await findings('?asOf=2026-04-01')
    const today = await findings()
    expect(then.map(({ id }) => id)).toEqual(today.map(({ id }) => id))
    expect(then.map(({ asOf }) => asOf)).toEqual(['2026-04-01', '2026-04-01'])
    expect(await findings('?asOf=2026-04-01')).toEqual(then)
  })

  it("show an owner their own boats' alone, and not who did what", async () => {
    const { body } = await owner('GET', '/v1/findings')
    expect(body.items.map(({ boat }: FindingItem) => boat)).toEqual(['Boat A'])
    const mine = await owner('GET', `/v1/findings/${body.items[0].id}`)
    expect(mine.body.events).toMatchObject([{ kind: 'opened', by: null }])
    const theirs = (await findingOf('Boat C')).body.id
    expect((await owner('GET', `/v1/findings/${theirs}`)).status).toBe(404)
    expect((await owner('POST', `/v1/findings/${body.items[0].id}/acknowledge`, {})).status).toBe(403)
    expect((await owner('GET', '/v1/pontoons/plan')).status).toBe(403)
    const past = await owner('GET', '/v1/findings?asOf=2026-04-01')
    expect(past.body.items.map(({ boat }: FindingItem) => boat)).toEqual(['Boat A'])
  })

  it('are hidden from another organisation', async () => {
    const { id } = (await findingOf('Boat C')).body
    expect((await foreigner('GET', '/v1/findings')).body.items).toEqual([])
    expect((await foreigner('GET', '/v1/findings?asOf=2026-04-01')).body.items).toEqual([])
    expect((await foreigner('GET', `/v1/findings/${id}`)).status).toBe(404)
    for (const [step, body] of Object.entries(STEPS)) {
      expect((await foreigner('POST', `/v1/findings/${id}/${step}`, body)).status, step).toBe(404)
    }
    expect(kindsOf(await findingOf('Boat C'))).toEqual(['opened'])
  })
})

const STEPS = {
  acknowledge: {},
  checks: { check: 'measure-contact', outcome: 'unclear', on: '2026-06-10' },
  resolve: { text: 'found a chafed feed and renewed it', on: '2026-06-10', cause: 'stray-current-onboard' },
  reopen: { note: 'it is back' },
}

describe('the plan of the pontoons', () => {
  it('has berths by pontoon and name, their effects, the boats there and what is found', async () => {
    const made = await staff('GET', '/v1/berths/N1')
    const placed = await staff('PATCH', '/v1/berths/N1', { planX: 12, planY: 3 }, basedOn(made))
    expect(placed.status, JSON.stringify(placed.body)).toBe(200)
    expect((await staff('PATCH', '/v1/berths/N1', { planX: null }, basedOn(placed))).status).toBe(422)
    const { body } = await staff('GET', '/v1/pontoons/plan')
    expect(body.asOf).toBe('2026-06-15')
    expect(body.pontoons.map(({ pontoon }: { pontoon: string }) => pontoon)).toEqual(['N', 'S'])
    const [n1] = body.pontoons[0].berths
    expect(n1).toMatchObject({ berth: 'N1', water: 'salt', shorePower: true, planX: 12, planY: 3 })
    expect(n1.boats).toEqual(['Boat A', 'Boat E', 'Boat I'])
    expect(n1.findings).toMatchObject([{ direction: 'slow', state: 'open', cause: 'no-electrical-contact' }])
    expect(Number.isFinite(n1.effect.mean) && n1.effect.se > 0).toBe(true)
    expect(body.pontoons[1].findings).toEqual([])
    expect((await foreigner('GET', '/v1/pontoons/plan')).body).toEqual({ asOf: null, pontoons: [] })
  })
})

describe('a step in the life of a finding', () => {
  it('is taken once: of two people who acknowledge, the second learns of the first', async () => {
    const { body } = await findingOf('Boat C')
    const path = `/v1/findings/${body.id}/acknowledge`
    const both = await Promise.all([staff('POST', path, { note: 'seen' }), manager('POST', path, {})])
    expect(both.map(({ status }) => status).sort()).toEqual([200, 409])
    const after = await findingOf('Boat C')
    expect(after.body.state).toBe('acknowledged')
    expect(kindsOf(after)).toEqual(['opened', 'acknowledged'])
  })

  it('is refused where it is based on what has been changed since', async () => {
    const read = await findingOf('Boat C')
    const path = `/v1/findings/${read.body.id}/checks`
    const first = await staff('POST', path, STEPS.checks, basedOn(read))
    expect(first.status, JSON.stringify(first.body)).toBe(200)
    const stale = await staff('POST', path, STEPS.checks, basedOn(read))
    expect(stale.status).toBe(412)
    expect(first.body.checks).toHaveLength(1)
  })

  it('that is repeated with its key is taken once', async () => {
    const { body } = await findingOf('Boat A')
    const path = `/v1/findings/${body.id}/acknowledge`
    const key = { 'idempotency-key': 'acknowledge once' }
    const answers = [await staff('POST', path, {}, key), await staff('POST', path, {}, key)]
    expect(answers.map(({ status }) => status)).toEqual([200, 200])
    expect(answers[1]!.body).toEqual(answers[0]!.body)
    expect(kindsOf(answers[1]!)).toEqual(['opened', 'acknowledged'])
  })
})

describe('a check', () => {
  it('moves the probabilities at once, to where the finding said that it would', async () => {
    const before = await findingOf('Boat C')
    const { check, outcomes } = before.body.nextCheck
    const wanted = outcomes[0]
    const after = await staff('POST', `/v1/findings/${before.body.id}/checks`, {
      check,
      outcome: wanted.outcome,
      on: '2026-06-14',
      note: 'made at the berth',
    })
    expect(after.status, JSON.stringify(after.body)).toBe(200)
    expect(after.body.state).toBe('checked')
    const moved = Object.fromEntries(
      after.body.causes.map(({ cause, probability }: { cause: string; probability: number }) => [cause, probability]),
    )
    for (const { cause, probability } of wanted.would) expect(moved[cause]).toBeCloseTo(probability, 9)
    expect(moved).not.toEqual(
      Object.fromEntries(
        before.body.causes.map(({ cause, probability }: { cause: string; probability: number }) => [
          cause,
          probability,
        ]),
      ),
    )
    expect(after.body.checks.at(-1)).toMatchObject({
      check,
      text: wanted.text,
      on: '2026-06-14',
      note: 'made at the berth',
    })
    expect(after.body.nextCheck?.check).not.toBe(check)
    await refit()
    const refitted = await findingOf('Boat C')
    for (const { cause, probability } of refitted.body.causes) expect(probability).toBeCloseTo(moved[cause], 6)
    expect(kindsOf(refitted)).toEqual(kindsOf(after))
  })

  it('of two people at once is recorded twice', async () => {
    const { body } = await findingOf('Boat A')
    const path = `/v1/findings/${body.id}/checks`
    const checks = (await staff('GET', '/v1/checks')).body.items.slice(0, 2)
    const made = await Promise.all(
      checks.map(({ check }: { check: string }) =>
        staff('POST', path, { check, outcome: 'unclear', on: '2026-06-14' }),
      ),
    )
    expect(made.map(({ status }: Answer) => status)).toEqual([200, 200])
    expect((await findingOf('Boat A')).body.checks).toHaveLength(2)
  })

  it('is refused where there is no such check or outcome, or it lies ahead', async () => {
    const { body } = await findingOf('Boat A')
    const path = `/v1/findings/${body.id}/checks`
    for (const [change, pointer] of [
      [{ check: 'crystal-ball' }, '#/check'],
      [{ outcome: 'purple' }, '#/outcome'],
      [{ on: '2026-07-01' }, '#/on'],
    ] as const) {
      const given = { check: body.nextCheck.check, outcome: body.nextCheck.outcomes[0].outcome, on: '2026-06-14' }
      const answer = await staff('POST', path, { ...given, ...change })
      expect([answer.status, answer.body.errors[0].pointer]).toEqual([422, pointer])
    }
  })
})

describe('forecasts', () => {
  const rateOf = async (anode: string) => {
    const { body } = await staff('GET', '/v1/forecasts?boat=Boat%20C')
    return body.items.find((item: { anode: string }) => item.anode === anode).rate.p50
  }

  it('follow the present rate while a fast finding is open, and the usual one once it is resolved', async () => {
    const fast = await rateOf('hull 3')
    const { body } = await findingOf('Boat C')
    const early = await staff('POST', `/v1/findings/${body.id}/resolve`, { ...STEPS.resolve, on: '2023-06-01' })
    expect([early.status, early.body.errors[0].pointer]).toEqual([422, '#/on'])
    const ahead = await staff('POST', `/v1/findings/${body.id}/resolve`, { ...STEPS.resolve, on: '2026-08-01' })
    expect(ahead.status).toBe(422)
    const asked = server.refits.askedBy.length
    const resolved = await staff('POST', `/v1/findings/${body.id}/resolve`, STEPS.resolve)
    expect(resolved.body).toMatchObject({ state: 'resolved', confirmedCause: 'stray-current-onboard' })
    expect(resolved.body.resolution).toEqual(STEPS.resolve)
    expect(server.refits.askedBy.length).toBe(asked + 1)
    expect((await staff('POST', `/v1/findings/${body.id}/resolve`, STEPS.resolve)).status).toBe(409)
    expect((await staff('POST', `/v1/findings/${body.id}/checks`, STEPS.checks)).status).toBe(409)
    await refit()
    const usual = await rateOf('hull 3')
    // 850 g in 352 days while it lasted; its like before lost 362 g a year.
    expect(fast).toBeGreaterThan(2)
    expect(usual).toBeLessThan(1.4)
    const after = await findingOf('Boat C')
    expect(after.body.state).toBe('resolved')
    expect(kindsOf(after).at(-1)).toBe('resolved')
  })
})

describe('a finding that is resolved', () => {
  it('is reopened by somebody who says why, and resolved again', async () => {
    const { body } = await findingOf('Boat C')
    expect((await staff('POST', `/v1/findings/${body.id}/reopen`, {})).status).toBe(400)
    const again = await staff('POST', `/v1/findings/${body.id}/reopen`, STEPS.reopen)
    expect(again.body).toMatchObject({ state: 'open', reopened: 1, confirmedCause: null, resolution: null })
    expect((await staff('POST', `/v1/findings/${body.id}/reopen`, STEPS.reopen)).status).toBe(409)
    expect((await staff('POST', `/v1/findings/${body.id}/resolve`, STEPS.resolve)).status).toBe(200)
    await refit()
  })

  it('is open again, and counted, when it recurs after that', async () => {
    now = new Date('2026-12-20T10:00:00Z')
    const anodes = ['shaft', 'hull'].flatMap((place) => [
      `Boat C,${place} 3,${place},zinc,2025-04-02,2026-06-16,1080,80`,
      `Boat C,${place} 4,${place},zinc,2026-06-16,,1080,80`,
    ])
    await importFleet(server, {
      'anodes.csv': ['boat,anode,position,alloy,fitted_on,removed_on,gross_mass_g,core_mass_g', ...anodes, ''].join(
        '\n',
      ),
    })
    await refit()
    expect((await findingOf('Boat C')).body.state).toBe('resolved')
    await importFleet(server, {
      'weighings.csv':
        'boat,anode,weighed_on,mass_g,resolution_g,cleaned\nBoat C,shaft 4,2026-12-15,320,1,yes\nBoat C,hull 4,2026-12-15,380,1,yes\n',
    })
    await refit()
    const { body } = await findingOf('Boat C')
    expect(body).toMatchObject({ state: 'open', reopened: 2, confirmedCause: null, resolution: null })
    expect(body.anodes.map(({ anode }: { anode: string }) => anode)).toContain('hull 4')
    expect(body.events.at(-1)).toMatchObject({ kind: 'reopened', by: 'refit', from: 'resolved', to: 'open' })
    const steps = body.events.length
    await refit()
    expect((await findingOf('Boat C')).body.events).toHaveLength(steps)
  })
})

describe('a finding that is seen no longer', () => {
  it('is closed where the records that it rested on were corrected, and its history stays', async () => {
    const { body: before } = await findingOf('Boat A')
    const { body } = await staff('GET', '/v1/weighings?boat=Boat%20A&limit=200')
    const weighing = body.items.find((item: { anode: string }) => item.anode === 'hull 3')
    const read = await staff('GET', `/v1/weighings/${weighing.id}`)
    const fixed = await manager(
      'PATCH',
      `/v1/weighings/${weighing.id}`,
      { massG: 770, reason: 'a digit was left out' },
      basedOn(read),
    )
    expect(fixed.status, JSON.stringify(fixed.body)).toBe(200)
    await refit()
    expect(await findings('?boat=Boat%20A')).toEqual([])
    const after = await staff('GET', `/v1/findings/${before.id}`)
    expect(after.body.state).toBe('closed')
    expect(kindsOf(after)).toEqual([...before.events.map(({ kind }: { kind: string }) => kind), 'closed'])
    expect(after.body.events.at(-1)).toMatchObject({
      by: 'refit',
      note: expect.stringContaining('No longer supported'),
    })
    await refit()
    expect((await staff('GET', `/v1/findings/${before.id}`)).body).toEqual(after.body)
  })
})

describe('the rate of false discoveries', () => {
  it("is the organisation's own, asks for new findings when it changes, and is in the audit trail", async () => {
    const administrator = askAs(server, await server.actorOf('administrator'))
    const read = await administrator('GET', '/v1/organisation')
    expect(read.body.falseDiscoveryRate).toBe(0.05)
    const asked = server.refits.askedBy.length
    const changed = await administrator('PATCH', '/v1/organisation', { falseDiscoveryRate: 0.01 }, basedOn(read))
    expect(changed.body.falseDiscoveryRate).toBe(0.01)
    expect(server.refits.askedBy.length).toBe(asked + 1)
    const refused = await administrator('PATCH', '/v1/organisation', { falseDiscoveryRate: 0.9 }, basedOn(changed))
    expect(refused.status).toBe(400)
    const inTrail = and(
      eq(auditEntries.organisationId, server.organisationId),
      eq(auditEntries.tableName, 'organisations'),
    )
    const [entry] = await server.database.db.select().from(auditEntries).where(inTrail)
    expect(entry).toMatchObject({ action: 'update', actor: 'key:test administrator' })
  })
})

it('refuses a step on what is no finding', async () => {
  const answer = await staff('POST', '/v1/findings/Boat%20C/acknowledge', {})
  expect(answer.status).toBe(400)
})
