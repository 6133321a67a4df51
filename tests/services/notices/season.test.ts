import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { anodes, boats, forecasts, modelFits, notices } from '../../../src/db/schema/index.js'
import type { MailMessage } from '../../../src/outside/mail.js'
import { calendarDay, dayNumber } from '../../../src/services/dates/day-numbers.js'
import { NoticeDecider } from '../../../src/services/notices/notice-decider.js'
import { NoticeSender } from '../../../src/services/notices/notice-sender.js'
import type { TeamLetters } from '../../../src/services/notices/team-letters.js'
import { Uniform } from '../../engine/simulated-fleet.js'
import { startTestServer, type TestServer } from '../../http/server.js'
import { importFleet } from '../../http/small-fleet.js'

/** Five hundred take about two minutes on a server: BOATS=500. */
const BOATS = Number(process.env.BOATS ?? 30)
const DAYS = 160
const FIRST_DAY = dayNumber('2026-03-01')
const REFIT_EVERY = 7

let server: TestServer
let today = FIRST_DAY
const now = () => new Date(Date.parse(`${calendarDay(today)}T12:00:00Z`))
const draw = new Uniform(11)
const by = (probability: number) => draw.next() < probability

/** Like a process that ends: whatever its transaction had done is gone. */
class Killed extends Error {}

beforeAll(async () => {
  server = await startTestServer({ now })
  const names = Array.from({ length: BOATS }, (_, index) => `Boat ${index}`)
  await importFleet(server, {
    'boats.csv': [
      'boat,owner_name,owner_email',
      ...names.map((boat, i) => `${boat},Owner ${i},owner${i}@example.org`),
      '',
    ].join('\n'),
    'anodes.csv': [
      'boat,anode,position,alloy,fitted_on,removed_on,gross_mass_g,core_mass_g',
      ...names.flatMap((boat) => ['shaft', 'hull'].map((at) => `${boat},${at} 1,${at},zinc,2025-04-01,,1080,80`)),
      '',
    ].join('\n'),
  })
  const administrator = await server.actorOf('administrator')
  await server.app.inject({ method: 'PATCH', url: '/v1/reminders', headers: administrator, payload: { enabled: true } })
}, 120_000)
afterAll(() => server.close())

interface Planned {
  readonly anodeId: string
  readonly boat: string
  /** Fixed for most; others move once in mid-season. */
  readonly due: number
  readonly later: number | null
}

/** Issues what a fit would: each anode's date with an interval of three weeks about it. */
async function issue(planned: readonly Planned[]): Promise<void> {
  const { db } = server.database
  const { organisationId } = server
  const asOf = calendarDay(today)
  const [fit] = await db
    .insert(modelFits)
    .values({ organisationId, asOf, dataRevision: 1, fittedAt: now().toISOString(), intervals: 0, summary: {} })
    .returning({ id: modelFits.id })
  const dueOf = ({ due, later }: Planned) => (later !== null && today > FIRST_DAY + DAYS / 2 ? later : due)
  await db.insert(forecasts).values(
    planned.map((each) => {
      const on = dueOf(each)
      const [p10, p50, p90] = [on, on + 10, on + 21].map(calendarDay)
      const item = {
        boat: each.boat,
        anode: 'an anode',
        position: 'shaft',
        alloy: 'zinc',
        recommendedOn: p10,
        haulOutRisks: [],
        replace: { p05: p10, p10, p50, p90, p95: p90 },
      }
      return {
        organisationId,
        fitId: fit!.id,
        anodeId: each.anodeId,
        asOf,
        recommendedOn: p10!,
        replaceP50: p50!,
        item,
        outlook: {},
      }
    }),
  )
}

it(`sends each notice of a season of ${BOATS} boats exactly once, though processes are killed at any point`, async () => {
  const { db, service, across } = server.database
  const handles = { db: service, across }
  const rows = await db
    .select({ anodeId: anodes.id, boat: boats.name })
    .from(anodes)
    .innerJoin(boats, eq(boats.id, anodes.boatId))
  const planned = rows.map((row): Planned => {
    const due = FIRST_DAY + Math.floor(draw.next() * 400) - 60
    return { ...row, due, later: by(0.1) ? due + 150 : null }
  })
  // Between what was decided and its commit.
  const dying = {
    due: async () => {
      if (by(0.3)) throw new Killed()
      return []
    },
  } as unknown as TeamLetters
  const taken: string[] = []
  const mail = {
    send: async ({ messageId }: MailMessage) => {
      if (by(0.1)) throw new Killed('before the server took it')
      taken.push(messageId!)
      if (by(0.05)) throw new Killed('after the server took it')
    },
  }
  const write = async ({ id, email }: { id: string; email: string }): Promise<MailMessage> => ({
    to: email,
    subject: id,
    text: id,
    messageId: id,
  })
  const alsoTell = async () => {
    if (by(0.05)) throw new Killed('after it was settled')
  }
  const senders = [0, 1].map(() => new NoticeSender(handles, { mail, write, alsoTell }, now))
  for (; today < FIRST_DAY + DAYS; today++) {
    if ((today - FIRST_DAY) % REFIT_EVERY === 0) await issue(planned)
    // Two processes decide at once; some never come to the end.
    const deciders = [dying, dying].map((each) => new NoticeDecider(handles, each, now))
    await Promise.allSettled(deciders.map((decider) => decider.decideAll()))
    for (let round = 0; round < 3; round++) await Promise.allSettled(senders.map((sender) => drain(sender)))
  }
  // The last day goes well, as days do.
  today -= 1
  await new NoticeDecider(handles, { due: async () => [] } as unknown as TeamLetters, now).decideAll()
  for (let day = 0; day < 8; day++) {
    today += 1
    for (let round = 0; round < 20; round++) await Promise.allSettled(senders.map((sender) => drain(sender)))
  }
  const kept = await db.select().from(notices)
  expect(kept.every(({ state }) => state === 'sent')).toBe(true)
  // A letter taken twice, by a kill between its taking and the note of it, bears one message id: mailboxes show it once.
  expect(new Set(taken).size).toBe(kept.length)
  expect(taken.length).toBeLessThan(kept.length * 1.2)

  const told = new Map<string, string[]>()
  for (const { why } of kept)
    for (const { anodeId, because } of why as { anodeId: string; because: string }[])
      told.set(anodeId, [...(told.get(anodeId) ?? []), because])
  const last = FIRST_DAY + DAYS - 1
  for (const { anodeId, due, later } of planned) {
    if (later !== null) continue
    const said = told.get(anodeId) ?? []
    expect(new Set(said).size).toBe(said.length)
    expect(said).not.toContain('moved')
    if (due - 14 <= last) expect(said).toContain('second')
    // What goes along with another letter comes a month early at most.
    if (due - 90 > last) expect(said).toEqual([])
  }
}, 600_000)

async function drain(sender: NoticeSender): Promise<void> {
  while ((await sender.deliverDue()) > 0);
}
