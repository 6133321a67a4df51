import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { auditEntries } from '../../src/db/schema/index.js'
import { type Ask, askAs, basedOn } from './ask.js'
import { startTestServer, type TestServer } from './server.js'

let server: TestServer
let ask: Ask

beforeAll(async () => {
  server = await startTestServer()
  ask = askAs(server, await server.actorOf('staff'))
  await ask('POST', '/v1/boats', { name: 'Wren' })
})
afterAll(() => server.close())

describe('a fitting', () => {
  it('is added, read by name and by id, changed, and removed; the trail says by whom', async () => {
    const wanted = { name: 'propeller', metal: 'manganese-bronze', areaCm2: 1450, coated: false, bonded: true }
    const made = await ask('POST', '/v1/boats/Wren/fittings', wanted)
    expect([made.status, made.etag]).toEqual([201, '"1"'])
    expect(made.body).toMatchObject({ boat: 'Wren', ...wanted })
    expect((await ask('GET', String(made.headers.location))).body).toEqual(made.body)
    const url = '/v1/boats/Wren/fittings/propeller'
    expect((await ask('GET', url)).body).toEqual(made.body)

    const changed = await ask('PATCH', url, { coated: true, areaCm2: null }, basedOn(made))
    expect([changed.status, changed.etag]).toEqual([200, '"2"'])
    expect(changed.body).toMatchObject({ ...wanted, coated: true, areaCm2: null })
    expect((await ask('PATCH', url, { coated: null }, basedOn(made))).status).toBe(412)
    expect((await ask('PATCH', url, { coated: null })).status).toBe(428)
    expect((await ask('DELETE', url, undefined, basedOn(made))).status).toBe(412)
    expect((await ask('DELETE', url, undefined, basedOn(changed))).status).toBe(204)
    expect((await ask('GET', url)).status).toBe(404)
    const trail = await server.database.db
      .select()
      .from(auditEntries)
      .where(eq(auditEntries.rowId, made.body.id))
      .orderBy(auditEntries.id)
    expect(trail.map(({ action, actor }) => `${action} by ${actor}`)).toEqual([
      'insert by key:test staff',
      'update by key:test staff',
      'delete by key:test staff',
    ])
  })

  it('of a metal that the series does not have is told which ones come close', async () => {
    const refused = await ask('POST', '/v1/boats/Wren/fittings', { name: 'seacock', metal: 'bronze' })
    expect(refused.status).toBe(400)
    const [error] = refused.body.errors
    expect(error.pointer).toBe('#/metal')
    expect(error.detail).toMatch(/^metal "bronze" is no metal of the galvanic series; close to it: .*silicon-bronze/)
    expect((await ask('GET', '/v1/boats/Wren/fittings/seacock')).status).toBe(404)
  })

  it('has a name of its own on its boat, not in the fleet', async () => {
    await ask('POST', '/v1/boats', { name: 'Robin' })
    expect((await ask('POST', '/v1/boats/Wren/fittings', { name: 'shaft' })).status).toBe(201)
    expect((await ask('POST', '/v1/boats/Robin/fittings', { name: 'shaft' })).status).toBe(201)
    const again = await ask('POST', '/v1/boats/Wren/fittings', { name: 'shaft' })
    expect([again.status, again.body.detail]).toEqual([409, 'this boat has a fitting of this name already'])
    const mine = await ask('GET', '/v1/boats/Wren/fittings/shaft')
    expect((await ask('GET', `/v1/boats/Robin/fittings/${mine.body.id}`)).status).toBe(404)
  })

  it('is listed with its boat alone, filtered by metal, the unknown areas last', async () => {
    await ask('POST', '/v1/boats', { name: 'Metal' })
    const add = (name: string, metal: string | null, areaCm2: number | null) =>
      ask('POST', '/v1/boats/Metal/fittings', { name, metal, areaCm2 })
    await add('a', 'copper', null)
    await add('b', 'copper', 20)
    await add('c', 'zinc', 100)
    const listed = async (query: string) => {
      const { body } = await ask('GET', `/v1/boats/Metal/fittings?${query}`)
      return body.items.map((fitting: { name: string }) => fitting.name)
    }
    expect(await listed('metal=copper')).toEqual(['a', 'b'])
    expect(await listed('sort=areaCm2')).toEqual(['b', 'c', 'a'])
    expect(await listed('sort=-areaCm2')).toEqual(['c', 'b', 'a'])
  })
})

it('the metals are those of the galvanic series, each a metal that a fitting may be of', async () => {
  const { body } = await ask('GET', '/v1/reference/metals')
  const keys = body.items.map((metal: { key: string }) => metal.key)
  // The order of the flowing-seawater series: graphite the noblest, magnesium the most active.
  expect([keys[0], keys.at(-1)]).toEqual(['graphite', 'magnesium'])
  for (const metal of keys) {
    expect((await ask('POST', '/v1/boats/Wren/fittings', { name: `of ${metal}`, metal })).status).toBe(201)
  }
})
