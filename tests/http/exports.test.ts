import { unzipSync } from 'fflate'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { CSV_FILE_NAMES } from '../../src/contract/csv/index.js'
import { asSources, SMALL_FLEET } from '../services/imports/files.js'
import { startTestServer, type TestServer } from './server.js'

let server: TestServer

beforeAll(async () => {
  server = await startTestServer({ now: () => new Date('2026-06-15T12:00:00Z') })
  const actor = { organisationId: server.organisationId, actor: 'test:manager', role: 'manager' } as const
  await server.services.imports.run(actor, asSources(SMALL_FLEET))
})
afterAll(() => server.close())

const get = async (url: string, accept?: string, role: 'manager' | 'staff' | 'owner' = 'manager') =>
  server.app.inject({ url, headers: { ...(await server.actorOf(role)), ...(accept && { accept }) } })

describe('GET /v1/exports', () => {
  it('gives a form that can be posted back as it is, and changes nothing then', async () => {
    const form = await get('/v1/exports')
    expect(form.headers['content-type']).toMatch(/^multipart\/form-data; boundary=/)
    const posted = await server.app.inject({
      method: 'POST',
      url: '/v1/imports',
      headers: { ...(await server.actorOf('manager')), 'content-type': form.headers['content-type'] },
      payload: form.rawPayload,
    })
    expect(posted.statusCode).toBe(200)
    const { files } = posted.json()
    expect(Object.keys(files)).toEqual([...CSV_FILE_NAMES])
    for (const name of CSV_FILE_NAMES) expect(files[name].unchanged).toBe(files[name].rows)
  })

  it.each(['application/zip', 'text/html,application/xhtml+xml,*/*;q=0.8'])(
    'gives an archive for %s',
    async (accept) => {
      const answer = await get('/v1/exports', accept)
      expect(answer.headers['content-type']).toBe('application/zip')
      const files = unzipSync(answer.rawPayload)
      expect(Object.keys(files).sort()).toEqual([...CSV_FILE_NAMES].sort())
      for (const name of CSV_FILE_NAMES) {
        const alone = await get(`/v1/exports/${name}`)
        expect(alone.headers['content-type']).toBe('text/csv; charset=utf-8')
        expect(Buffer.from(files[name]!).equals(alone.rawPayload)).toBe(true)
      }
    },
  )

  it('lists the files for a program that asks for JSON', async () => {
    const answer = await get('/v1/exports', 'application/json')
    expect(answer.json().items.map(({ file }: { file: string }) => file)).toEqual([...CSV_FILE_NAMES])
    expect((await get(answer.json().items[0].href)).statusCode).toBe(200)
  })

  it('refuses another form, another file, and who may not', async () => {
    expect((await get('/v1/exports', 'image/png')).statusCode).toBe(406)
    expect((await get('/v1/exports/ships.csv')).statusCode).toBe(400)
    expect((await get('/v1/exports', undefined, 'staff')).statusCode).toBe(403)
    expect((await get('/v1/exports/boats.csv', undefined, 'owner')).statusCode).toBe(403)
  })

  it('says in the API document what comes and goes', async () => {
    const { paths } = (await server.app.inject({ url: '/v1/openapi.json' })).json()
    const answers = paths['/v1/exports'].get.responses['200'].content
    expect(Object.keys(answers)).toEqual(['multipart/form-data', 'application/zip', 'application/json'])
    const body = paths['/v1/imports'].post.requestBody.content
    expect(Object.keys(body['multipart/form-data'].schema.properties)).toEqual([...CSV_FILE_NAMES])
  })
})
