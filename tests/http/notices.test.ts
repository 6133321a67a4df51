import { randomUUID } from 'node:crypto'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { MailMessage } from '../../src/outside/mail.js'
import { type Answer, type Ask, askAs } from './ask.js'
import { refitNow } from './refitted-fleet.js'
import { startTestServer, type TestServer } from './server.js'
import { fleetFiles, importFleet } from './small-fleet.js'

let server: TestServer
let now = new Date('2026-03-25T12:00:00Z')
let administrator: Ask
let nobody: Ask

beforeAll(async () => {
  server = await startTestServer({ now: () => now })
  await importFleet(server, fleetFiles(server.ownerEmail))
  await refitNow(server, () => now)
  administrator = askAs(server, await server.actorOf('administrator'))
  nobody = askAs(server, {})
})
afterAll(() => server.close())

const on = (day: string) => {
  now = new Date(`${day}T12:00:00Z`)
}

/** Sends all that is due now. */
async function mailOf(): Promise<MailMessage[]> {
  const before = server.letters.length
  while ((await server.services.noticeSender.deliverDue()) > 0);
  return server.letters.slice(before)
}

function expectProblem({ status, headers, body }: Answer, expected: number): void {
  expect(status, JSON.stringify(body)).toBe(expected)
  expect(headers['content-type']).toContain('application/problem+json')
}
const mine = (letters: readonly MailMessage[]) => letters.filter(({ to }) => to === server.ownerEmail)
const tokenIn = ({ text }: MailMessage) => text.match(/\/letters\/(?!open)(\S+)/)![1]!

describe('reminders', () => {
  it('are off until an administrator switches them on', async () => {
    expect((await administrator('GET', '/v1/reminders')).body).toMatchObject({ enabled: false, leadDays: 60 })
    await server.services.noticeDecider.decideAll()
    expect(await mailOf()).toEqual([])
  })

  it('show what would be sent, to whom and why, before they are switched on', async () => {
    const { status, body } = await administrator('GET', '/v1/notices/preview?days=366')
    expect(status).toBe(200)
    const own = body.items.filter(({ to }: { to: string }) => to === server.ownerEmail)
    expect(own.length).toBeGreaterThan(0)
    expect(own[0]).toMatchObject({ kind: 'boat', boats: ['Boat A'] })
    expect(own[0].why.length).toBeGreaterThan(0)
    const summaries = body.items.filter(({ kind }: { kind: string }) => kind === 'summary')
    expect(summaries.every(({ to }: { to: string }) => to === 'other@example.org')).toBe(true)
    expect((await administrator('GET', '/v1/notices')).body.items).toEqual([])
  })

  it('refuse what cannot be, by field', async () => {
    const answer = await administrator('PATCH', '/v1/reminders', { timeZone: 'Mars/Base', leadDays: 3 })
    expectProblem(answer, 400)
    expect(answer.body.errors.map(({ pointer }: { pointer: string }) => pointer).sort()).toEqual([
      '#/leadDays',
      '#/timeZone',
    ])
  })

  it('write to an owner once when a date comes near, and to an owner of many boats in one letter', async () => {
    const preview = (await administrator('GET', '/v1/notices/preview?days=366')).body.items
    const first = preview.find(({ to }: { to: string }) => to === server.ownerEmail)
    await administrator('PATCH', '/v1/reminders', { enabled: true })
    on(first.on)
    await server.services.noticeDecider.decideAll()
    const letters = mine(await mailOf())
    expect(letters).toHaveLength(1)
    expect(letters[0]!.subject).toContain('Boat A')
    expect(letters[0]!.text).toContain('HOW SURE')
    expect(letters[0]!.pictures).toHaveLength(1)
    await server.services.noticeDecider.decideAll()
    expect(mine(await mailOf())).toEqual([])
    const log = (await administrator('GET', '/v1/notices')).body.items
    expect(log.find(({ to }: { to: string }) => to === server.ownerEmail)).toMatchObject({
      boat: 'Boat A',
      state: 'sent',
      attempts: 1,
      why: expect.arrayContaining([expect.objectContaining({ because: 'first' })]),
    })
    const many = log.filter(
      ({ to, kind }: { to: string; kind: string }) => to === 'other@example.org' && kind === 'boat',
    )
    expect(many.length).toBeLessThanOrEqual(3)
  })

  it('wait for the morning where it is night', async () => {
    await administrator('PATCH', '/v1/reminders', { timeZone: 'Pacific/Auckland', quietFrom: 20, quietTo: 8 })
    now = new Date(now.getTime() + 20 * 86_400_000)
    await server.services.noticeDecider.decideAll()
    const { items } = (await administrator('GET', '/v1/notices?state=waiting')).body
    const day = now.toISOString().slice(0, 10)
    const waiting = items.filter((each: { on: string }) => each.on >= day)
    expect(waiting.length).toBeGreaterThan(0)
    for (const { nextAttemptAt } of waiting) {
      const hour = new Date(nextAttemptAt).toLocaleTimeString('en-GB', { timeZone: 'Pacific/Auckland' }).slice(0, 2)
      expect(Number(hour)).toBeGreaterThanOrEqual(8)
      expect(Number(hour)).toBeLessThan(20)
    }
    await administrator('PATCH', '/v1/reminders', { timeZone: 'UTC' })
    now = new Date(now.getTime() + 86_400_000)
    await mailOf()
  })
})

describe('a letter’s link', () => {
  let token: string
  beforeAll(() => {
    token = tokenIn(mine(server.letters.filter(({ html }) => html !== undefined))[0]!)
  })

  it('shows what it is about without signing in, and does nothing by being looked at', async () => {
    const seen = await nobody('GET', `/v1/letters/${token}`)
    expect(seen.body).toMatchObject({
      organisation: 'Test yard',
      boat: 'Boat A',
      email: server.ownerEmail,
      isStopped: false,
      snoozedUntil: null,
    })
    expect(seen.body.anodes).toHaveLength(2)
    expectProblem(await nobody('GET', `/v1/letters/${token}/unsubscribe`), 404)
    expect((await nobody('GET', `/v1/letters/${token}`)).body).toEqual(seen.body)
  })

  it('is nothing when it was not signed here', async () => {
    expectProblem(await nobody('GET', `/v1/letters/${token}x`), 404)
    const [payload] = token.split('.')
    expectProblem(await nobody('POST', `/v1/letters/${payload}.${'A'.repeat(43)}`, { action: 'stop' }), 404)
    expectProblem(await nobody('GET', '/v1/letters/nonsense'), 404)
  })

  it('snoozes, stops and resumes the boat', async () => {
    const until = '2027-03-01'
    expect((await nobody('POST', `/v1/letters/${token}`, { action: 'snooze', until })).body.snoozedUntil).toBe(until)
    expect((await nobody('POST', `/v1/letters/${token}`, { action: 'stop' })).body.isStopped).toBe(true)
    const resumed = (await nobody('POST', `/v1/letters/${token}`, { action: 'resume' })).body
    expect(resumed).toMatchObject({ isStopped: false, snoozedUntil: null })
    expectProblem(await nobody('POST', `/v1/letters/${token}`, { action: 'explode' }), 400)
  })

  it('has the first letter come as early as its reader wants', async () => {
    expect((await nobody('GET', `/v1/letters/${token}`)).body.leadDays).toBe(60)
    expect((await nobody('POST', `/v1/letters/${token}`, { action: 'lead', leadDays: 120 })).body.leadDays).toBe(120)
    expectProblem(await nobody('POST', `/v1/letters/${token}`, { action: 'lead', leadDays: 2 }), 400)
    const early = (await administrator('GET', '/v1/notices/preview?days=366')).body.items
    await nobody('POST', `/v1/letters/${token}`, { action: 'lead', leadDays: 30 })
    const late = (await administrator('GET', '/v1/notices/preview?days=366')).body.items
    const others = ({ to }: { to: string }) => to !== server.ownerEmail
    expect(early.filter(others)).toEqual(late.filter(others))
  })

  it('ends all letters by one click of a mail program (RFC 8058), until they are resumed', async () => {
    const header = mine(server.letters.filter(({ html }) => html !== undefined))[0]!.headers!['List-Unsubscribe']!
    const path = new URL(header.slice(1, -1)).pathname
    const clicked = await server.app.inject({
      method: 'POST',
      url: path,
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
      payload: 'List-Unsubscribe=One-Click',
    })
    expect(clicked.statusCode).toBe(204)
    expect((await nobody('GET', `/v1/letters/${token}`)).body.isStopped).toBe(true)
    await nobody('POST', `/v1/letters/${token}`, { action: 'resume' })
    expect((await nobody('GET', `/v1/letters/${token}`)).body.isStopped).toBe(false)
  })

  it('logs what the owner replaced, with the mass where they know it', async () => {
    const { anodes } = (await nobody('GET', `/v1/letters/${token}`)).body
    const day = now.toISOString().slice(0, 10)
    const late = await nobody('POST', `/v1/letters/${token}`, {
      action: 'done',
      on: '2030-01-01',
      anodes: [{ id: anodes[0].id, massG: null }],
    })
    expectProblem(late, 422)
    expect(late.body.errors[0].pointer).toBe('#/on')
    const done = await nobody('POST', `/v1/letters/${token}`, {
      action: 'done',
      on: day,
      anodes: [
        { id: anodes[0].id, massG: 512 },
        { id: anodes[1].id, massG: null },
      ],
    })
    expect(done.status, JSON.stringify(done.body)).toBe(200)
    const owner = askAs(server, await server.actorOf('owner'))
    const { items } = (await owner('GET', '/v1/boats/Boat%20A/haul-outs')).body
    const logged = (
      await owner('GET', `/v1/haul-outs/${items.find(({ hauledOn }: { hauledOn: string }) => hauledOn === day).id}`)
    ).body
    expect(logged.replaced).toHaveLength(2)
    expect(logged.weighings.map(({ massG }: { massG: number }) => massG)).toEqual([512])
    now = new Date(now.getTime() + 86_400_000)
    await server.services.noticeDecider.decideAll()
    expect(mine(await mailOf())).toEqual([])
  })
})

it('owners and staff see nothing of the letters, managers see them and change nothing', async () => {
  const paths = ['/v1/notices', '/v1/notices/preview', '/v1/reminders']
  for (const role of ['owner', 'staff', 'manager'] as const) {
    const ask = askAs(server, await server.actorOf(role))
    for (const path of paths) {
      if (role === 'manager') expect((await ask('GET', path)).status).toBe(200)
      else expectProblem(await ask('GET', path), 403)
    }
    expectProblem(await ask('PATCH', '/v1/reminders', { enabled: false }), 403)
    expectProblem(await ask('POST', `/v1/notices/${randomUUID()}/retry`), 403)
  }
})
