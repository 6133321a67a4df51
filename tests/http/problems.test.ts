import { sql } from 'drizzle-orm'
import Fastify from 'fastify'
import { serializerCompiler, validatorCompiler, type ZodTypeProvider } from 'fastify-type-provider-zod'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { z } from 'zod'
import { inOrganisation } from '../../src/db/in-organisation.js'
import { boats } from '../../src/db/schema/index.js'
import { OutOfRange } from '../../src/engine/errors.js'
import { CONSTRAINT_SENTENCES } from '../../src/http/constraint-sentences.js'
import { handleErrors, refuseUnknownPaths } from '../../src/http/error-handler.js'
import problemWords from '../../src/messages/en/problems.json' with { type: 'json' }
import { Conflict, Invalid, NotFound, PreconditionRequired, Stale } from '../../src/services/errors.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../database/test-database.js'
import { expectProblem } from './problem-schema.js'

let database: TestDatabase
beforeAll(async () => {
  database = await createTestDatabase()
})
afterAll(() => database.close())

/** A server with one route that does what the test says, under the real error handling. */
function serverThat(work: () => Promise<unknown>) {
  const app = Fastify().withTypeProvider<ZodTypeProvider>()
  app.setValidatorCompiler(validatorCompiler)
  app.setSerializerCompiler(serializerCompiler)
  handleErrors(app)
  refuseUnknownPaths(app)
  const Body = z.strictObject({
    weighings: z
      .array(
        z.strictObject({
          massG: z.number().gt(0),
          method: z.enum(['scale', 'visual']).default('scale'),
          weighedOn: z.iso.date().optional(),
        }),
      )
      .max(2),
    note: z.string().min(1).optional(),
  })
  app.get('/work', { schema: { response: { 200: z.object({ ok: z.boolean() }) } } }, async () => {
    await work()
    return { ok: true }
  })
  app.post('/weighings/:id', { schema: { body: Body, params: z.object({ id: z.uuid() }) } }, async () => ({}))
  app.get(
    '/list',
    { schema: { querystring: z.strictObject({ limit: z.coerce.number().int().max(200) }) } },
    async () => [],
  )
  return app
}

const failing = (error: unknown) =>
  serverThat(async () => {
    throw error
  }).inject('/work')

describe('an error of a service', () => {
  it.each([
    [new NotFound('the boat'), 404, 'the boat was not found'],
    [new Conflict('a boat of this name exists already'), 409, 'a boat of this name exists already'],
    [new Invalid([{ pointer: '#/massG', detail: 'massG is too large' }]), 422, 'massG is too large'],
    [new OutOfRange('salinity', 50, '0 to 42 psu'), 422, 'salinity must be 0 to 42 psu, got 50'],
    [new Stale('the boat'), 412, 'the boat has been changed since it was read; read it again and repeat the change'],
    [new PreconditionRequired(), 428, 'send If-Match with the ETag that came with the last reading'],
  ])('%s becomes a problem', async (error, status, detail) => {
    expect(expectProblem(await failing(error), status).detail).toBe(detail)
  })

  it('names the fields of an invalid request', async () => {
    const body = expectProblem(await failing(new Invalid([{ pointer: '#/massG', detail: 'massG is too large' }])), 422)
    expect(body.errors).toEqual([{ pointer: '#/massG', detail: 'massG is too large' }])
  })

  it('of a kind nobody foresaw tells nothing of the inside', async () => {
    const answer = await failing(new Error('password=hunter2 at /srv/secret.ts:12'))
    const body = expectProblem(answer, 500)
    expect(answer.body).not.toMatch(/hunter2|secret/)
    expect(body.title).toBe('Internal Server Error')
  })

  it('that is no Error at all is a problem too', async () => {
    expectProblem(await failing('thrown text'), 500)
  })
})

describe('a request that the schema refuses', () => {
  const id = '0b5f3c1e-6f0d-4a57-9a0e-5a4f3d8f5b11'
  const post = (payload: object | string, url = `/weighings/${id}`) =>
    serverThat(async () => {}).inject({ method: 'POST', url, payload, headers: { 'content-type': 'application/json' } })

  it.each([
    [{ weighings: [{ massG: 0 }] }, '#/weighings/0/massG', 'massG must be above 0'],
    [{ weighings: [{ massG: '12' }] }, '#/weighings/0/massG', 'massG must be a number'],
    [{ weighings: [{}] }, '#/weighings/0/massG', 'massG is missing'],
    [{ weighings: [{ massG: 1 }, 5] }, '#/weighings/1', 'weighings (number 2) must be an object'],
    [{ weighings: [{ massG: 1, method: 'guess' }] }, '#/weighings/0/method', 'method must be one of scale, visual'],
    [
      { weighings: [{ massG: 1, weighedOn: '18/4/2031' }] },
      '#/weighings/0/weighedOn',
      'weighedOn must be a date such as 2031-04-18',
    ],
    [{ weighings: [{ massG: 1, mass: 2 }] }, '#/weighings/0/mass', 'mass is not known here'],
    [{ weighings: [{ massG: 1 }, { massG: 1 }, { massG: 1 }] }, '#/weighings', 'weighings must have at most 2 entries'],
    [{ weighings: [], note: '' }, '#/note', 'note must not be empty'],
    [{ weighings: [], 'a/b~c': 1 }, '#/a~1b~0c', 'a/b~c is not known here'],
    [[], '#', 'the request must be an object'],
  ])('%j names %s', async (payload, pointer, detail) => {
    const body = expectProblem(await post(payload), 400)
    expect(body.errors).toEqual([{ pointer, detail, in: 'body' }])
    expect(body.detail).toBe(detail)
  })

  it('names path and query too', async () => {
    expect(expectProblem(await post({ weighings: [] }, '/weighings/7'), 400).errors).toEqual([
      { pointer: '#/id', detail: 'id must be an identifier (UUID)', in: 'path' },
    ])
    expect(expectProblem(await serverThat(async () => {}).inject('/list?limit=201'), 400).errors).toEqual([
      { pointer: '#/limit', detail: 'limit must be at most 200', in: 'query' },
    ])
  })

  it('is a problem when it is no JSON, or of another kind', async () => {
    expectProblem(await post('{"weighings": ['), 400)
    const xml = { 'content-type': 'application/xml' }
    const answer = await serverThat(async () => {}).inject({
      method: 'POST',
      url: `/weighings/${id}`,
      payload: '<a/>',
      headers: xml,
    })
    expectProblem(answer, 415)
  })

  it('is a problem where nothing answers, with an instance that is a URI reference whatever was asked for', async () => {
    const app = serverThat(async () => {})
    expect(expectProblem(await app.inject('/boats/%41|<b>?token=secret'), 404).instance).toBe('/boats/%41%7C%3Cb%3E')
  })
})

describe('a rule of the database', () => {
  /** Rules that no request can break: keys between tables that the services keep, and the tables of the machinery. */
  const outOfReach =
    /(_pkey|_pk|_fk|_fkey)$|^auth_|^positions_boat$|^findings_|^forecasts_risk|^jobs_|^audit_entries|^forgotten_people_|^webhooks_disabled|^webhook_deliveries|^calendar_feeds_email|^notices?_/

  it('has a plain sentence, each of them', async () => {
    const rows = await database.db.execute(sql`select c.conname as name from pg_constraint c
      join pg_namespace n on n.oid = c.connamespace where n.nspname = 'public' and c.contype in ('c', 'u', 'x')`)
    const names = (rows as unknown as { rows: { name: string }[] }).rows.map((row) => row.name)
    expect(names.length).toBeGreaterThan(40)
    const silent = names.filter((name) => !outOfReach.test(name) && !(name in CONSTRAINT_SENTENCES))
    expect(silent).toEqual([])
  })

  it('has a code of its own where the pages say it in other languages, which translate this very sentence', () => {
    const coded = Object.values(CONSTRAINT_SENTENCES).flatMap(({ code, detail }) =>
      code ? [[`clash.${code}`, detail]] : [],
    )
    const said = Object.entries(problemWords).filter(([key]) => key.startsWith('clash.'))
    expect(said.length).toBeGreaterThan(10)
    expect(coded.toSorted()).toEqual(said.toSorted())
  })

  it.each([
    ['unique', [{ name: 'Wren' }, { name: 'Wren' }], 409, 'a boat of this name exists already'],
    ['check', [{ name: 'Wren', launchedYear: 12 }], 422, 'launchedYear must be between 1800 and 2200'],
    ['text', [{ name: 'Wr\0en' }], 400, 'a text holds a character that cannot be stored (NUL)'],
  ])('(%s) becomes a problem in plain words', async (_kind, rows, status, detail) => {
    const actor = await createOrganisation(database.db)
    const { organisationId } = actor
    const app = serverThat(() =>
      inOrganisation(database.service, actor, (tx) =>
        tx.insert(boats).values(rows.map((row) => ({ organisationId, ...row }))),
      ),
    )
    const code = status === 409 ? { code: 'boat-name-taken' } : {}
    expect(expectProblem(await app.inject('/work'), status)).toMatchObject({ detail, ...code })
  })
})
