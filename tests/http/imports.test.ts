import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Files, SMALL_FLEET } from '../services/imports/files.js'
import { type Credentials, startTestServer, type TestServer } from './server.js'

let server: TestServer
let manager: Credentials

beforeAll(async () => {
  server = await startTestServer({ now: () => new Date('2026-06-15T12:00:00Z') })
  manager = await server.actorOf('manager')
})
afterAll(() => server.close())

/** A body of multipart/form-data as a browser or `fetch` makes it. */
async function encode(form: FormData): Promise<{ headers: Record<string, string>; payload: Buffer }> {
  const encoded = new Response(form)
  const payload = Buffer.from(await encoded.arrayBuffer())
  return { headers: { 'content-type': encoded.headers.get('content-type') ?? '' }, payload }
}

function formOf(files: Files): FormData {
  const form = new FormData()
  for (const [name, content] of Object.entries(files)) form.append('files', new Blob([content]), name)
  return form
}

async function post(form: FormData, { as = manager, query = '' } = {}) {
  const { headers, payload } = await encode(form)
  return server.app.inject({ method: 'POST', url: `/v1/imports${query}`, headers: { ...headers, ...as }, payload })
}

describe('POST /v1/imports', () => {
  it('checks on a dry run, then loads, then finds nothing to change', async () => {
    const dry = await post(formOf(SMALL_FLEET), { query: '?dryRun=true' })
    expect([dry.statusCode, dry.json().dryRun, dry.json().refit]).toEqual([200, true, null])
    const real = await post(formOf(SMALL_FLEET))
    expect(real.statusCode).toBe(200)
    expect(real.json()).toMatchObject({
      dryRun: false,
      files: { 'boats.csv': { rows: 3, created: 3, updated: 0, unchanged: 0 } },
      refit: { kind: 'refit' },
    })
    const again = await post(formOf(SMALL_FLEET))
    expect(again.json().files['weighings.csv']).toEqual({ rows: 4, created: 0, updated: 0, unchanged: 4 })
    expect(again.json().refit.id).toMatch(/^[0-9a-f-]{36}$/)
  })

  it('takes the name of the field where the file has none of use', async () => {
    const form = new FormData()
    form.append('berths.csv', new Blob(['berth\nZ1\n']), 'blob')
    form.append('boats.csv', 'boat\nGreenshank\n')
    const answer = await post(form)
    expect([answer.statusCode, Object.keys(answer.json().files)]).toEqual([200, ['berths.csv', 'boats.csv']])
  })

  it('refuses with a problem document that lists each bad cell', async () => {
    const answer = await post(
      formOf({ 'boats.csv': 'boat,hull\nTwite,tin\nTwite2,grp\n', 'haul-outs.csv': 'boat,on\nTwite,x\n' }),
    )
    expect(answer.statusCode).toBe(422)
    expect(answer.headers['content-type']).toContain('application/problem+json')
    expect(answer.json()).toMatchObject({
      status: 422,
      errorCount: 2,
      errors: [
        { file: 'boats.csv', line: 2, column: 'hull', pointer: '#/boats.csv/2/hull' },
        { file: 'haul-outs.csv', line: 2, column: 'on' },
      ],
    })
    const boats = await server.app.inject({ url: '/v1/boats/Twite2', headers: manager })
    expect(boats.statusCode).toBe(404)
  })

  it('goes on to the next file when one cannot be read', async () => {
    const latin1 = Buffer.from(`boat\n${'Gr\u00fcn\n'.repeat(200_000)}`, 'latin1')
    const answer = await post(formOf({ 'boats.csv': latin1, 'berths.csv': 'berth,water\nQ1,sea\n' }))
    expect(answer.json().errors).toMatchObject([
      { file: 'boats.csv', line: 2, column: null },
      { file: 'berths.csv', line: 2, column: 'water' },
    ])
  })

  it('refuses more than it can hold, what is no form, and an unknown query', async () => {
    const large = await post(formOf({ 'boats.csv': Buffer.alloc(65 * 1024 * 1024, 'boat\n') }))
    expect(large.statusCode).toBe(413)
    const json = await server.app.inject({ method: 'POST', url: '/v1/imports', headers: manager, payload: {} })
    expect(json.statusCode).toBe(415)
    expect((await post(formOf(SMALL_FLEET), { query: '?dry=1' })).statusCode).toBe(400)
    expect((await post(new FormData())).statusCode).toBe(422)
  })

  it('refuses a form that breaks off', async () => {
    const { headers, payload } = await encode(formOf(SMALL_FLEET))
    for (const length of [payload.length - 10, Math.floor(payload.length / 2), 60]) {
      const answer = await server.app.inject({
        method: 'POST',
        url: '/v1/imports',
        headers: { ...headers, ...manager },
        payload: payload.subarray(0, length),
      })
      expect([length, answer.statusCode, answer.json().detail]).toEqual([
        length,
        400,
        expect.stringContaining('broke off'),
      ])
    }
  })

  it('answers other requests while it takes in 100,000 rows', async () => {
    const rows = Array.from({ length: 100_000 }, (_, index) => `Berth ${index},P${index % 40},salt,34.5,54.1,10.2,yes`)
    const files = {
      'berths.csv': `berth,pontoon,water,salinity_psu,latitude,longitude,shore_power\n${rows.join('\n')}\n`,
    }
    let done = false
    const importing = post(formOf(files), { query: '?dryRun=true' }).finally(() => {
      done = true
    })
    let slowest = 0
    while (!done) {
      const start = performance.now()
      const alive = await server.app.inject({ url: '/health/live' })
      expect(alive.statusCode).toBe(200)
      slowest = Math.max(slowest, performance.now() - start)
      await new Promise((resolve) => setTimeout(resolve, 5))
    }
    expect((await importing).json().files['berths.csv'].created).toBe(100_000)
    expect(slowest).toBeLessThan(1000)
  })

  it.each(['staff', 'owner'] as const)('is not for the role %s', async (role) => {
    const answer = await post(formOf(SMALL_FLEET), { as: await server.actorOf(role) })
    expect(answer.statusCode).toBe(403)
  })

  it('is for somebody', async () => {
    expect((await post(formOf(SMALL_FLEET), { as: {} })).statusCode).toBe(401)
  })
})
