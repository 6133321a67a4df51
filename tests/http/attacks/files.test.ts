import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { buildTestService, startTestServer, type TestServer } from '../server.js'
import { portOf, sendRaw } from './raw-connection.js'

const SECRET = 'the words of no page'
let server: TestServer
let folder: string
let port: number
let web: Awaited<ReturnType<typeof buildTestService>>
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'attacked-'))
  const pages = join(folder, 'web')
  mkdirSync(join(pages, 'assets'), { recursive: true })
  writeFileSync(join(folder, 'secret.txt'), SECRET)
  writeFileSync(join(pages, '.env'), SECRET)
  writeFileSync(join(pages, 'index.html'), '<p>the app</p>')
  writeFileSync(join(pages, 'assets', 'app.js'), 'the script')
  server = await startTestServer()
  web = await buildTestService(server.database, { webFolder: pages })
  port = await portOf(web.app)
})
afterAll(async () => {
  await web.app.close()
  await server.close()
  rmSync(folder, { recursive: true, force: true })
})

/** Ways up that have got past somebody's check: plain, encoded once and twice, overlong UTF-8, backslashes, NUL, parameters. */
const WAYS_UP = [
  '../',
  '..%2f',
  '%2e%2e/',
  '%2e%2e%2f',
  '..%252f',
  '%252e%252e%252f',
  '..%c0%af',
  '..%e0%80%af',
  '..\\',
  '..%5c',
  '%2e%2e%5c',
  '....//',
  '..;/',
  './../',
  '%00../',
]
const ENDS = ['secret.txt', 'secret.txt%00.js', 'secret.txt/', 'web/.env', '.env']

describe('a path that climbs out of the folder of the app', () => {
  it.each(WAYS_UP)('finds nothing by %s', async (up) => {
    for (const start of ['/', '/assets/', '/assets/app.js/', '/docs/static/', '//', '/docs/']) {
      for (const end of ENDS) {
        // By a socket of our own: clients tidy up paths before they send them.
        const path = `${start}${up.repeat(2)}${end}`
        const { text } = await sendRaw(port, `GET ${path} HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n`)
        expect(text, path).toMatch(/^HTTP\/1\.1 (30\d|40\d|414) /)
        expect(text, path).not.toContain(SECRET)
      }
    }
  })

  it('still serves what is in it', async () => {
    const { text } = await sendRaw(port, 'GET /assets/app.js HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n')
    expect(text).toMatch(/^HTTP\/1\.1 200 [\s\S]*the script$/)
  })

  it('gives no file whose name begins with a dot', async () => {
    expect((await web.app.inject('/.env')).body).not.toContain(SECRET)
  })
})

describe('the key of a photo, and other names in paths', () => {
  it.each(['/v1/photos/', '/v1/exports/', '/v1/calendars/', '/v1/reference/', '/v1/jobs/'])(
    'lead to nothing above %s',
    async (start) => {
      const headers = await server.actorOf('administrator')
      for (const up of WAYS_UP) {
        const url = `${start}${up.replaceAll('/', '%2f').repeat(4)}etc%2fpasswd`
        const answer = await server.app.inject({ url, headers })
        expect([400, 404, 414], url).toContain(answer.statusCode)
        expect(answer.body).not.toContain('root:')
      }
    },
  )
})
