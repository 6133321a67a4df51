import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ReferenceTable } from '../../src/contract/reference.js'
import { REFERENCE_TABLES } from '../../src/services/reference/tables.js'
import { type Ask, askAs } from './ask.js'
import { startTestServer, type TestServer } from './server.js'

let server: TestServer
let ask: Ask

beforeAll(async () => {
  server = await startTestServer()
  ask = askAs(server, await server.actorOf('owner'))
})
afterAll(() => server.close())

describe('the reference tables', () => {
  it('are listed', async () => {
    const { status, body } = await ask('GET', '/v1/reference')
    expect(status).toBe(200)
    expect(body.items.map(({ name }: { name: string }) => name)).toEqual(REFERENCE_TABLES.map(({ name }) => name))
    expect(body.items[0]).toMatchObject({ name: 'galvanic-series', title: 'Galvanic series', rows: 47 })
  })

  it.each(REFERENCE_TABLES.map(({ name }) => name))(
    '%s is served with status and sources of each row',
    async (name) => {
      const { status, body } = await ask('GET', `/v1/reference/${name}`)
      expect(status).toBe(200)
      const table = ReferenceTable.parse(body)
      expect(table.items).toHaveLength(table.rows)
      const known = new Set(table.sources.map(({ key }) => key))
      const columns = table.columns.map(({ key }) => key)
      for (const row of table.items) {
        expect(Object.keys(row.values)).toEqual(columns)
        expect(row.sources.length).toBeGreaterThan(0)
        expect(row.sources.filter((key) => !known.has(key))).toEqual([])
        expect(row.status).not.toBe('')
      }
    },
  )

  it('say which electrode and unit a figure is in', async () => {
    const { body } = await ask('GET', '/v1/reference/anode-alloys')
    const units = Object.fromEntries(body.columns.map(({ key, unit }: { key: string; unit: string }) => [key, unit]))
    expect(units).toMatchObject({ closedCircuitVAgAgcl: 'V Ag/AgCl', practicalAhPerKg: 'A·h/kg', suitsSalt: null })
    expect(body.items[0].values.suitsSalt).toBe('yes')
  })

  it('are not sent again to somebody who has them', async () => {
    for (const url of ['/v1/reference', '/v1/reference/protection-criteria']) {
      const first = await ask('GET', url)
      expect(first.headers['cache-control']).toBe('private, max-age=3600')
      expect(first.etag).toMatch(/^"[\w-]{22}"$/)
      const again = await ask('GET', url, undefined, { 'if-none-match': first.etag })
      expect([again.status, again.body]).toEqual([304, null])
      expect((await ask('GET', url, undefined, { 'if-none-match': '"other"' })).status).toBe(200)
    }
  })

  it('leave the metals of fittings where they were, and know no other name', async () => {
    expect((await ask('GET', '/v1/reference/metals')).body.items).toHaveLength(47)
    expect((await ask('GET', '/v1/reference/horoscope')).status).toBe(404)
  })
})
