import { deflateSync } from 'node:zlib'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { jpegOf, pngOfChunks, whitePng } from '../../services/photos/images.js'
import { expectProblem } from '../problem-schema.js'
import { type Credentials, startTestServer, type TestServer } from '../server.js'
import { fleetFiles, importFleet } from '../small-fleet.js'

let server: TestServer
let credentials: Credentials
let url: string
beforeAll(async () => {
  server = await startTestServer()
  credentials = await server.actorOf('manager')
  await importFleet(server, fleetFiles(server.ownerEmail))
  const list = await server.app.inject({ url: '/v1/haul-outs', headers: credentials })
  url = `/v1/haul-outs/${list.json().items[0].id}/photos`
})
afterAll(() => server.close())

async function send(picture: Buffer | string, name = 'hull.jpg', type = 'image/jpeg') {
  const form = new FormData()
  form.append('photo', new Blob([typeof picture === 'string' ? picture : new Uint8Array(picture)], { type }), name)
  const body = new Response(form)
  return server.app.inject({
    method: 'POST',
    url,
    headers: { ...credentials, 'content-type': body.headers.get('content-type') ?? '' },
    payload: Buffer.from(await body.arrayBuffer()),
  })
}

const SCRIPT = '<script>alert(document.cookie)</script>'
const SVG = `<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)">${SCRIPT}<image href="file:///etc/passwd"/></svg>`

it.each([
  ['an SVG drawing with a script', SVG],
  [
    'the same after a declaration',
    `<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>${SVG}`,
  ],
  ['the same, called a picture', SVG],
  ['a page', `<!doctype html>${SCRIPT}`],
  [
    'a picture in words, as ImageMagick reads it',
    'push graphic-context\nimage over 0,0 0,0 "https://evil.example/x"\n',
  ],
  ['a list of pictures', 'ephemeral:/etc/passwd'],
  ['PostScript', '%!PS\n(%pipe%id) (r) file\n'],
])('%s is no photo', async (_what, text) => {
  expectProblem(await send(text), 415)
})

it.each([
  ['after its end', async () => Buffer.concat([await jpegOf(60, 40, 1), Buffer.from(SCRIPT)])],
  ['in a comment', async () => withComment(await jpegOf(60, 40, 2), SCRIPT)],
  [
    'as an archive behind it',
    async () => Buffer.concat([await jpegOf(60, 40, 3), Buffer.from('PK\x05\x06'), Buffer.alloc(18)]),
  ],
])('a picture that is something else as well loses that: %s', async (_where, make) => {
  const added = await send(await make(), 'hull.html', 'text/html')
  expect(added.statusCode, added.body).toBe(201)
  const shown = await server.app.inject({ url: added.json().items[0].url, headers: credentials })
  expect(shown.headers['content-type']).toBe('image/webp')
  expect(shown.headers['x-content-type-options']).toBe('nosniff')
  expect(shown.rawPayload.subarray(0, 4).toString()).toBe('RIFF')
  expect(shown.rawPayload.includes('<script')).toBe(false)
  expect(shown.rawPayload.includes('PK')).toBe(false)
})

/** Bombs: small files that grow when they are read. */
it('a picture of more pixels than are taken is refused without being unpacked', async () => {
  const before = process.memoryUsage().rss
  expectProblem(await send(whitePng(30_000, 30_000)), 422)
  expect(process.memoryUsage().rss - before).toBeLessThan(300 * 1024 * 1024)
})

it.each(['zTXt', 'iCCP'] as const)('a note of 200 MB in a picture (%s) is not kept in memory', async (type) => {
  // W3C PNG (third edition), 11.3.3.3 and 11.3.2.3: keyword, NUL, method 0, deflated bytes.
  const bomb = Buffer.concat([Buffer.from('note\0\0'), deflateSync(Buffer.alloc(200 * 1024 * 1024))])
  const before = process.memoryUsage().rss
  const answer = await send(pngOfChunks(40, 30, [[type, bomb]]))
  expect([200, 201, 422]).toContain(answer.statusCode)
  expect(process.memoryUsage().rss - before).toBeLessThan(300 * 1024 * 1024)
})

/** As a parser of forms finds them only once it is reading: on a haul-out that is there. */
it.each([
  ['no boundary', 'multipart/form-data', 'x'],
  ['an empty boundary', 'multipart/form-data; boundary=', 'x'],
  ['a boundary that never comes', 'multipart/form-data; boundary=other', '--b\r\n\r\nx\r\n--b--\r\n'],
  [
    'no end',
    'multipart/form-data; boundary=b',
    '--b\r\nContent-Disposition: form-data; name="p"; filename="p.jpg"\r\n\r\nx',
  ],
  ['a broken head', 'multipart/form-data; boundary=b', '--b\r\nContent-Disposition form-data\r\n\r\nx\r\n--b--\r\n'],
  ['a head without an end', 'multipart/form-data; boundary=b', `--b\r\nx: ${'a'.repeat(100_000)}`],
])('a form that cannot be read is refused: %s', async (_what, type, payload) => {
  for (const to of [url, '/v1/imports']) {
    const headers = { ...credentials, 'content-type': type }
    const answer = await server.app.inject({ method: 'POST', url: to, headers, payload })
    expect([400, 415, 422], `${to}: ${answer.body}`).toContain(answer.statusCode)
    expectProblem(answer, answer.statusCode)
  }
})

/** ITU-T T.81, B.2.4.5: a comment segment, right after the start of the image. */
function withComment(jpeg: Buffer, text: string): Buffer {
  const length = Buffer.alloc(2)
  length.writeUInt16BE(text.length + 2)
  return Buffer.concat([jpeg.subarray(0, 2), Buffer.from([0xff, 0xfe]), length, Buffer.from(text), jpeg.subarray(2)])
}
