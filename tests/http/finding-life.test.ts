import { and, eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { auditEntries } from '../../src/db/schema/index.js'
import { type Answer, askAs, basedOn } from './ask.js'
import { type FaultyYard, kindsOf, STEPS, startFaultyYard } from './faulty-fleet.js'
import { importFleet } from './small-fleet.js'

let yard: FaultyYard
beforeAll(async () => {
  yard = await startFaultyYard()
})
afterAll(() => yard.close())

describe('a step in the life of a finding', () => {
  it('is taken once: of two people who acknowledge, the second learns of the first', async () => {
    const { body } = await yard.findingOf('Boat C')
    const path = `/v1/findings/${body.id}/acknowledge`
    const both = await Promise.all([yard.staff('POST', path, { note: 'seen' }), yard.manager('POST', path, {})])
    expect(both.map(({ status }) => status).sort()).toEqual([200, 409])
    const after = await yard.findingOf('Boat C')
    expect(after.body.state).toBe('acknowledged')
    expect(kindsOf(after)).toEqual(['opened', 'acknowledged'])
  })

  it('is refused where it is based on what has been changed since', async () => {
    const read = await yard.findingOf('Boat C')
    const path = `/v1/findings/${read.body.id}/checks`
    const first = await yard.staff('POST', path, STEPS.checks, basedOn(read))
    expect(first.status, JSON.stringify(first.body)).toBe(200)
    const stale = await yard.staff('POST', path, STEPS.checks, basedOn(read))
    expect(stale.status).toBe(412)
    expect(first.body.checks).toHaveLength(1)
  })

  it('that is repeated with its key is taken once', async () => {
    const { body } = await yard.findingOf('Boat A')
    const path = `/v1/findings/${body.id}/acknowledge`
    const key = { 'idempotency-key': 'acknowledge once' }
    const answers = [await yard.staff('POST', path, {}, key), await yard.staff('POST', path, {}, key)]
    expect(answers.map(({ status }) => status)).toEqual([200, 200])
    expect(answers[1]!.body).toEqual(answers[0]!.body)
    expect(kindsOf(answers[1]!)).toEqual(['opened', 'acknowledged'])
  })
})

describe('a check', () => {
  it('moves the probabilities at once, to where the finding said that it would', async () => {
    const before = await yard.findingOf('Boat C')
    const { check, outcomes } = before.body.nextCheck
    const wanted = outcomes[0]
    const after = await yard.staff('POST', `/v1/findings/${before.body.id}/checks`, {
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
    await yard.refit()
    const refitted = await yard.findingOf('Boat C')
    for (const { cause, probability } of refitted.body.causes) expect(probability).toBeCloseTo(moved[cause], 6)
    expect(kindsOf(refitted)).toEqual(kindsOf(after))
  })

  it('of two people at once is recorded twice', async () => {
    const { body } = await yard.findingOf('Boat A')
    const path = `/v1/findings/${body.id}/checks`
    const checks = (await yard.staff('GET', '/v1/checks')).body.items.slice(0, 2)
    const made = await Promise.all(
      checks.map(({ check }: { check: string }) =>
        yard.staff('POST', path, { check, outcome: 'unclear', on: '2026-06-14' }),
      ),
    )
    expect(made.map(({ status }: Answer) => status)).toEqual([200, 200])
    expect((await yard.findingOf('Boat A')).body.checks).toHaveLength(2)
  })

  it('is refused where there is no such check or outcome, or it lies ahead', async () => {
    const { body } = await yard.findingOf('Boat A')
    const path = `/v1/findings/${body.id}/checks`
    for (const [change, pointer] of [
      [{ check: 'crystal-ball' }, '#/check'],
      [{ outcome: 'purple' }, '#/outcome'],
      [{ on: '2026-07-01' }, '#/on'],
    ] as const) {
      const given = { check: body.nextCheck.check, outcome: body.nextCheck.outcomes[0].outcome, on: '2026-06-14' }
      const answer = await yard.staff('POST', path, { ...given, ...change })
      expect([answer.status, answer.body.errors[0].pointer]).toEqual([422, pointer])
    }
  })
})

describe('forecasts', () => {
  const rateOf = async (anode: string) => {
    const { body } = await yard.staff('GET', '/v1/forecasts?boat=Boat%20C')
    return body.items.find((item: { anode: string }) => item.anode === anode).rate.p50
  }

  it('follow the present rate while a fast finding is open, and the usual one once it is resolved', async () => {
    const fast = await rateOf('hull 3')
    const { body } = await yard.findingOf('Boat C')
    const early = await yard.staff('POST', `/v1/findings/${body.id}/resolve`, { ...STEPS.resolve, on: '2023-06-01' })
    expect([early.status, early.body.errors[0].pointer]).toEqual([422, '#/on'])
    const ahead = await yard.staff('POST', `/v1/findings/${body.id}/resolve`, { ...STEPS.resolve, on: '2026-08-01' })
    expect(ahead.status).toBe(422)
    const asked = yard.server.refits.askedBy.length
    const resolved = await yard.staff('POST', `/v1/findings/${body.id}/resolve`, STEPS.resolve)
    expect(resolved.body).toMatchObject({ state: 'resolved', confirmedCause: 'stray-current-onboard' })
    expect(resolved.body.resolution).toEqual(STEPS.resolve)
    expect(yard.server.refits.askedBy.length).toBe(asked + 1)
    expect((await yard.staff('POST', `/v1/findings/${body.id}/resolve`, STEPS.resolve)).status).toBe(409)
    expect((await yard.staff('POST', `/v1/findings/${body.id}/checks`, STEPS.checks)).status).toBe(409)
    await yard.refit()
    const usual = await rateOf('hull 3')
    // 850 g in 352 days while it lasted; its like before lost 362 g a year.
    expect(fast).toBeGreaterThan(2)
    expect(usual).toBeLessThan(1.4)
    const after = await yard.findingOf('Boat C')
    expect(after.body.state).toBe('resolved')
    expect(kindsOf(after).at(-1)).toBe('resolved')
  })
})

describe('a finding that is resolved', () => {
  it('is reopened by somebody who says why, and resolved again', async () => {
    const { body } = await yard.findingOf('Boat C')
    expect((await yard.staff('POST', `/v1/findings/${body.id}/reopen`, {})).status).toBe(400)
    const again = await yard.staff('POST', `/v1/findings/${body.id}/reopen`, STEPS.reopen)
    expect(again.body).toMatchObject({ state: 'open', reopened: 1, confirmedCause: null, resolution: null })
    expect((await yard.staff('POST', `/v1/findings/${body.id}/reopen`, STEPS.reopen)).status).toBe(409)
    expect((await yard.staff('POST', `/v1/findings/${body.id}/resolve`, STEPS.resolve)).status).toBe(200)
    await yard.refit()
  })

  it('is open again, and counted, when it recurs after that', async () => {
    yard.setNow('2026-12-20T10:00:00Z')
    const anodes = ['shaft', 'hull'].flatMap((place) => [
      `Boat C,${place} 3,${place},zinc,2025-04-02,2026-06-16,1080,80`,
      `Boat C,${place} 4,${place},zinc,2026-06-16,,1080,80`,
    ])
    await importFleet(yard.server, {
      'anodes.csv': ['boat,anode,position,alloy,fitted_on,removed_on,gross_mass_g,core_mass_g', ...anodes, ''].join(
        '\n',
      ),
    })
    await yard.refit()
    expect((await yard.findingOf('Boat C')).body.state).toBe('resolved')
    await importFleet(yard.server, {
      'weighings.csv':
        'boat,anode,weighed_on,mass_g,resolution_g,cleaned\nBoat C,shaft 4,2026-12-15,320,1,yes\nBoat C,hull 4,2026-12-15,380,1,yes\n',
    })
    await yard.refit()
    const { body } = await yard.findingOf('Boat C')
    expect(body).toMatchObject({ state: 'open', reopened: 2, confirmedCause: null, resolution: null })
    expect(body.anodes.map(({ anode }: { anode: string }) => anode)).toContain('hull 4')
    expect(body.events.at(-1)).toMatchObject({ kind: 'reopened', by: 'refit', from: 'resolved', to: 'open' })
    const steps = body.events.length
    await yard.refit()
    expect((await yard.findingOf('Boat C')).body.events).toHaveLength(steps)
  })
})

describe('a finding that is seen no longer', () => {
  it('is closed where the records that it rested on were corrected, and its history stays', async () => {
    const { body: before } = await yard.findingOf('Boat A')
    const { body } = await yard.staff('GET', '/v1/weighings?boat=Boat%20A&limit=200')
    const weighing = body.items.find((item: { anode: string }) => item.anode === 'hull 3')
    const read = await yard.staff('GET', `/v1/weighings/${weighing.id}`)
    const fixed = await yard.manager(
      'PATCH',
      `/v1/weighings/${weighing.id}`,
      { massG: 770, reason: 'a digit was left out' },
      basedOn(read),
    )
    expect(fixed.status, JSON.stringify(fixed.body)).toBe(200)
    await yard.refit()
    expect(await yard.findings('?boat=Boat%20A')).toEqual([])
    const after = await yard.staff('GET', `/v1/findings/${before.id}`)
    expect(after.body.state).toBe('closed')
    expect(kindsOf(after)).toEqual([...before.events.map(({ kind }: { kind: string }) => kind), 'closed'])
    expect(after.body.events.at(-1)).toMatchObject({
      by: 'refit',
      note: expect.stringContaining('No longer supported'),
    })
    await yard.refit()
    expect((await yard.staff('GET', `/v1/findings/${before.id}`)).body).toEqual(after.body)
  })
})

describe('the rate of false discoveries', () => {
  it("is the organisation's own, asks for new findings when it changes, and is in the audit trail", async () => {
    const administrator = askAs(yard.server, await yard.server.actorOf('administrator'))
    const read = await administrator('GET', '/v1/organisation')
    expect(read.body.falseDiscoveryRate).toBe(0.05)
    const asked = yard.server.refits.askedBy.length
    const changed = await administrator('PATCH', '/v1/organisation', { falseDiscoveryRate: 0.01 }, basedOn(read))
    expect(changed.body.falseDiscoveryRate).toBe(0.01)
    expect(yard.server.refits.askedBy.length).toBe(asked + 1)
    const refused = await administrator('PATCH', '/v1/organisation', { falseDiscoveryRate: 0.9 }, basedOn(changed))
    expect(refused.status).toBe(400)
    const inTrail = and(
      eq(auditEntries.organisationId, yard.server.organisationId),
      eq(auditEntries.tableName, 'organisations'),
    )
    const [entry] = await yard.server.database.db.select().from(auditEntries).where(inTrail)
    expect(entry).toMatchObject({ action: 'update', actor: 'key:test administrator' })
  })
})

it('refuses a step on what is no finding', async () => {
  const answer = await yard.staff('POST', '/v1/findings/Boat%20C/acknowledge', {})
  expect(answer.status).toBe(400)
})
