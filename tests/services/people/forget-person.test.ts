import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { rowsOf } from '../../../src/db/backup/table-shapes.js'
import { members, organisations, owners } from '../../../src/db/schema/index.js'
import { type Ask, askAs } from '../../http/ask.js'
import { expectProblem } from '../../http/problem-schema.js'
import { refitNow } from '../../http/refitted-fleet.js'
import { startTestServer, type TestServer } from '../../http/server.js'
import { fleetFiles, importFleet } from '../../http/small-fleet.js'
import { everyRowThatSays } from './every-row.js'

const NOW = () => new Date('2026-05-01T09:00:00Z')
const ADA = 'Ada.Marker@example.org'
const BEFORE_MARRIAGE = 'Ada Formermark'
const NAME = 'Ada "Bee" Markername'
/** What nobody may find of her afterwards; texts about others, which hold parts of it, stay. */
const MARKS = ['ada.marker@example.org', 'Formermark', 'Markername']
const OTHERS = 'her cousin x.Ada.Marker@example.org.uk paid'

let server: TestServer
let admin: Ask
beforeAll(async () => {
  server = await startTestServer({ now: NOW })
  admin = askAs(server, await server.actorOf('administrator'))
  await importFleet(server, fleetFiles(server.ownerEmail))
})
afterAll(() => server.close())

/** Ada owns a boat, works at the yard, signs in, writes notes, and is written about. */
async function adaComesIn(): Promise<void> {
  const { database, organisationId } = server
  await admin('POST', '/v1/members', { email: ADA, role: 'manager' })
  const boat = await admin(
    'PATCH',
    '/v1/boats/Boat%20B',
    { ownerName: BEFORE_MARRIAGE, ownerEmail: ADA },
    await tag('B'),
  )
  expect(boat.status, JSON.stringify(boat.body)).toBe(200)
  await database.db.execute(
    sql`update owners set name = ${NAME} where organisation_id = ${organisationId} and name = ${BEFORE_MARRIAGE}`,
  )
  const herself = await server.signIn(ADA)
  const ada = askAs(server, { ...herself, origin: 'http://localhost:3000', 'user-agent': 'Markername Phone 3' })
  const said = [
    ['POST', '/v1/boats', { name: 'Hers' }, { 'idempotency-key': 'ada-1' }],
    ['PATCH', '/v1/me/preferences', { massUnit: 'oz' }],
    ['POST', '/v1/desk/views', { name: 'Markername’s boats', query: 'due=soon' }],
    ['POST', '/v1/me/calendar-feeds', { scope: 'owner', language: 'en' }],
    ['POST', '/v1/api-keys', { name: `${NAME} scale`, role: 'staff' }],
  ] as const
  for (const [method, url, body, headers] of said) {
    const asker = url === '/v1/api-keys' ? admin : ada
    const answer = await asker(method, url, body, headers)
    expect(answer.status, `${url} ${JSON.stringify(answer.body)}`).toBeLessThan(300)
  }
  const lift = { hauledOn: '2026-04-20', note: `${NAME} (${ADA}, born ${BEFORE_MARRIAGE}) held the rope; ${OTHERS}` }
  expect((await admin('POST', '/v1/boats/Boat%20B/haul-outs', lift)).status).toBe(201)
  await database.db.execute(
    sql`insert into notice_addresses (organisation_id, email) values (${organisationId}, ${ADA.toLowerCase()})`,
  )
  await database.db.execute(sql`insert into notices (organisation_id, kind, boat_id, email, once, decided_on, why, next_attempt_at)
    select organisation_id, 'boat', id, ${ADA.toLowerCase()}, ${`letter to ${ADA}`}, '2026-04-30', ${JSON.stringify({ to: NAME })}::jsonb, now()
    from boats where organisation_id = ${organisationId} and name = 'Boat B'`)
}

const tag = async (boat: string) => ({ 'if-match': (await admin('GET', `/v1/boats/Boat%20${boat}`)).etag })

/** Forecasts as they are issued anew: dates and masses, without ids and instants. */
async function forecastsNow(): Promise<unknown> {
  await refitNow(server, NOW)
  const { items } = (await admin('GET', '/v1/forecasts?limit=200')).body
  expect(items.length).toBeGreaterThan(20)
  return JSON.parse(JSON.stringify(items, (key, value) => (/id$|At$|owner/i.test(key) ? undefined : value)))
}

const countOf = async (table: string) => {
  const [row] = await rowsOf<{ rows: number }>(
    server.database.db,
    sql`select count(*)::int as rows from ${sql.identifier(table)} where organisation_id = ${server.organisationId}`,
  )
  return row?.rows
}
const KEPT = [
  'boats',
  'owners',
  'stays',
  'positions',
  'anodes',
  'haul_outs',
  'weighings',
  'findings',
  'notices',
  'photos',
]
const countsKept = async () =>
  Object.fromEntries(await Promise.all(KEPT.map(async (name) => [name, await countOf(name)])))

describe('a person who is forgotten', () => {
  it('is in no column of any table, and the record stays as it was', async () => {
    await adaComesIn()
    const forecasts = await forecastsNow()
    const counts = await countsKept()
    const trail = await rowsOf<{ id: number }>(
      server.database.db,
      sql`select id, at, action, table_name, row_id from audit_entries order by id`,
    )
    for (const mark of MARKS) expect(await everyRowThatSays(server.database.db, mark), mark).not.toEqual([])

    const seen = await admin('POST', '/v1/people/data', { email: ADA })
    expect(seen.body).toMatchObject({
      role: 'manager',
      ownerNames: [NAME],
      boats: ['Boat B'],
      hasSignedIn: true,
      calendarFeeds: 1,
      savedViews: 1,
    })
    expect(seen.body.letters).toHaveLength(1)
    expect(seen.body.notes).toEqual([expect.stringContaining('held the rope')])
    expect(await countsKept()).toEqual(counts)

    const answer = await admin('POST', '/v1/people/forget', { email: ADA, confirm: ADA })
    expect(answer.status, JSON.stringify(answer.body)).toBe(200)
    const found = await Promise.all(MARKS.map((mark) => everyRowThatSays(server.database.db, mark, OTHERS)))
    expect(found).toEqual(MARKS.map(() => []))

    expect(await countsKept()).toEqual(counts)
    expect(await forecastsNow()).toEqual(forecasts)
    const { alias } = answer.body
    const boat = (await admin('GET', '/v1/boats/Boat%20B')).body
    expect(JSON.stringify(boat)).toContain(alias)
    const lifts = (await admin('GET', '/v1/boats/Boat%20B/haul-outs')).body
    expect(JSON.stringify(lifts)).toContain(OTHERS)
    const after = await rowsOf<{ id: number }>(
      server.database.db,
      sql`select id, at, action, table_name, row_id from audit_entries order by id`,
    )
    expect(after.slice(0, trail.length)).toEqual(trail)
    const [told] = (await admin('GET', '/v1/audit?table=forgotten_people')).body.items
    expect(told).toMatchObject({ action: 'insert', after: { alias }, reason: 'a person is forgotten' })
    const [letter] = await rowsOf(
      server.database.db,
      sql`select state, email from notices where email like '%.invalid'`,
    )
    expect(letter).toEqual({ state: 'dropped', email: `${alias}@people.invalid` })
  })

  it('is on record no more, and is signed out', async () => {
    const { body } = await admin('POST', '/v1/people/data', { email: ADA })
    expect(body).toMatchObject({ role: null, ownerNames: [], boats: [], hasSignedIn: false, changes: 0, letters: [] })
  })
})

describe('forgetting', () => {
  it('asks for the address twice, and changes nothing where the second is another', async () => {
    const answer = await admin('POST', '/v1/people/forget', { email: server.ownerEmail, confirm: 'staff@example.org' })
    expect(answer.status).toBe(422)
    expect(answer.body.errors).toEqual([expect.objectContaining({ pointer: '#/confirm' })])
    expect((await admin('POST', '/v1/people/data', { email: server.ownerEmail })).body.ownerNames).not.toEqual([])
  })

  it('is for administrators', async () => {
    for (const role of ['manager', 'staff', 'owner'] as const) {
      const headers = { ...(await server.actorOf(role)), origin: 'http://localhost:3000' }
      for (const url of ['/v1/people/data', '/v1/people/forget']) {
        const payload = { email: ADA, ...(url.endsWith('forget') && { confirm: ADA }) }
        expectProblem(await server.app.inject({ method: 'POST', url, headers, payload }), 403)
      }
    }
  })

  it('leaves a name of one word in what people wrote, and takes it from the owner', async () => {
    const { db } = server.database
    await db.insert(owners).values({ organisationId: server.organisationId, name: 'email', email: 'one@example.org' })
    await admin('POST', '/v1/boats/Boat%20C/haul-outs', { hauledOn: '2026-04-21', note: 'sent by email' })
    const answer = await admin('POST', '/v1/people/forget', { email: 'One@example.org', confirm: 'one@EXAMPLE.org' })
    expect(answer.status, JSON.stringify(answer.body)).toBe(200)
    expect(JSON.stringify((await admin('GET', '/v1/boats/Boat%20C/haul-outs')).body)).toContain('sent by email')
    expect(await everyRowThatSays(db, 'one@example.org')).toEqual([])
  })

  it('touches no other organisation, and leaves the sign-in that another knows', async () => {
    const { db } = server.database
    const email = 'two.yards@example.org'
    const [other] = await db.insert(organisations).values({ name: 'Other yard' }).returning()
    await db.insert(members).values([
      { organisationId: other!.id, email, role: 'staff' },
      { organisationId: server.organisationId, email, role: 'staff' },
    ])
    await server.signIn(email)
    expect((await admin('POST', '/v1/people/forget', { email, confirm: email })).status).toBe(200)
    const left = await everyRowThatSays(db, email)
    expect(left.filter(({ organisation }) => organisation === server.organisationId)).toEqual([])
    expect(left.map(({ table }) => table)).toEqual(expect.arrayContaining(['public.members', 'public.auth_users']))
  })

  it('leaves the sign-in link of somebody whose address ends like theirs', async () => {
    const { database, letters } = server
    const [other] = await database.db.insert(organisations).values({ name: 'Far yard' }).returning()
    await database.db.insert(members).values({ organisationId: other!.id, email: 'joann@far.example', role: 'staff' })
    const before = letters.length
    await admin('POST', '/v1/auth/sign-in/magic-link', { email: 'joann@far.example' })
    await expect.poll(() => letters.length).toBe(before + 1)
    const forgotten = { email: 'ann@far.example', confirm: 'ann@far.example' }
    expect((await admin('POST', '/v1/people/forget', forgotten)).status).toBe(200)
    const token = new URL(letters.at(-1)!.text.match(/https?:\S+/)![0]).searchParams.get('token')
    expect((await admin('POST', '/v1/auth/magic-link/verify', { token })).status).toBe(200)
  })

  it('is refused for the last administrator, and nothing is gone then', async () => {
    const { db } = server.database
    const alone = await startTestServer({ now: NOW, database: server.database })
    const email = 'alone@example.org'
    await db.insert(members).values({ organisationId: alone.organisationId, email, role: 'administrator' })
    await db.execute(
      sql`delete from members where organisation_id = ${alone.organisationId} and email = 'administrator@example.org'`,
    )
    const herself = askAs(alone, { ...(await alone.signIn(email)), origin: 'http://localhost:3000' })
    const answer = await herself('POST', '/v1/people/forget', { email, confirm: email })
    expect(answer.status).toBe(409)
    expect(answer.body.detail).toMatch(/last administrator/)
    expect((await herself('GET', '/v1/me')).body.role).toBe('administrator')

    await db
      .insert(members)
      .values({ organisationId: alone.organisationId, email: 'second@example.org', role: 'administrator' })
    expect(
      (await herself('POST', '/v1/people/forget', { email, confirm: email }, { 'idempotency-key': 'gone' })).status,
    ).toBe(200)
    expect(await everyRowThatSays(db, email)).toEqual([])
    await alone.close()
  })

  it('is the only way by which the trail changes', async () => {
    const { service } = server.database
    const redact = service.transaction(async (tx) => {
      await tx.execute(
        sql`select set_config('app.org', ${server.organisationId}, true), set_config('app.forgetting', 'on', true)`,
      )
      await tx.execute(sql`update audit_entries set actor = 'somebody else'`)
    })
    await expect(redact).rejects.toMatchObject({ cause: { message: expect.stringMatching(/permission denied/) } })
    const byOwner = server.database.db.execute(sql`update audit_entries set actor = 'somebody else'`)
    await expect(byOwner).rejects.toMatchObject({ cause: { message: expect.stringMatching(/only ever added to/) } })
    const nobody = service.execute(sql`select forget_person('a@example.org', 'a', 'a@people.invalid')`)
    await expect(nobody).rejects.toMatchObject({ cause: { message: expect.stringMatching(/which organisation/) } })
  })
})
