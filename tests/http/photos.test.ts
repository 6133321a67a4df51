import { randomUUID } from 'node:crypto'
import { request } from 'node:http'
import sharp from 'sharp'
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import { LARGEST_PHOTO_BYTES } from '../../src/contract/photos.js'
import { colourAt, jpegOf, paddedJpeg, phoneJpeg, whitePng } from '../services/photos/images.js'
import { type Ask, askAs } from './ask.js'
import { type Credentials, startTestServer, type TestServer } from './server.js'

let server: TestServer
let address: string
let staff: Credentials
let owner: Credentials
let ask: Ask
let theirs: Lift
let others: Lift

interface Lift {
  readonly boat: string
  readonly weighing: string
  readonly haulOut: string
}

beforeAll(async () => {
  server = await startTestServer({ now: () => new Date('2031-06-15T12:00:00Z') })
  address = await server.app.listen({ host: '127.0.0.1', port: 0 })
  staff = await server.actorOf('staff')
  owner = await server.actorOf('owner')
  ask = askAs(server, staff)
  theirs = await lift('Wren', server.ownerEmail)
  others = await lift('Dunlin', 'somebody-else@example.org')
})
afterAll(() => server.close())

async function lift(boat: string, ownerEmail: string): Promise<Lift> {
  await ask('POST', '/v1/boats', { name: boat, ownerEmail })
  const anode = { name: 'shaft 1', position: 'shaft', alloy: 'zinc', fittedOn: '2030-04-01', grossMassG: 1250 }
  await ask('POST', `/v1/boats/${boat}/anodes`, anode)
  const weighed = await ask('POST', `/v1/boats/${boat}/anodes/shaft%201/weighings`, {
    weighedOn: '2031-04-18',
    massG: 900,
  })
  const { body } = await ask('POST', `/v1/boats/${boat}/haul-outs`, { hauledOn: '2031-04-19' })
  return { boat, weighing: weighed.body.id, haulOut: (body.haulOut ?? body).id }
}

/** Sends files as a browser does, over a real connection. */
async function send(path: string, files: Buffer[], who: Credentials = staff, headers: Credentials = {}) {
  const form = new FormData()
  for (const file of files) form.append('photo', new Blob([new Uint8Array(file)]), 'bow.jpg')
  const answer = await fetch(`${address}${path}`, { method: 'POST', body: form, headers: { ...who, ...headers } })
  return { status: answer.status, headers: answer.headers, body: await answer.json() }
}

const sendToWeighing = (files: Buffer[], who?: Credentials) =>
  send(`/v1/weighings/${theirs.weighing}/photos`, files, who)

const get = (url: string, who: Credentials, headers: Credentials = {}) =>
  server.app.inject({ url, headers: { ...who, ...headers } })

describe('a photo of a weighing', () => {
  it('is sent by staff, listed with its boat, and shown upright in two sizes', async () => {
    const sent = await sendToWeighing([await phoneJpeg()])
    expect(sent.status).toBe(201)
    const [photo] = sent.body.items
    expect(photo).toMatchObject({ boat: 'Wren', anode: 'shaft 1', date: '2031-04-18', widthPx: 200, heightPx: 320 })

    const list = await ask('GET', '/v1/boats/Wren/photos?anode=shaft%201')
    expect(list.body).toEqual({ items: [photo], nextCursor: null })

    const full = await get(photo.url, staff)
    expect(full.statusCode).toBe(200)
    expect(await sharp(full.rawPayload).metadata()).toMatchObject({ format: 'webp', width: 200, height: 320 })
    expect(await colourAt(full.rawPayload, 0.5, 0.25)).toBe('red')
    const thumb = await get(photo.thumbUrl, staff)
    expect(await sharp(thumb.rawPayload).metadata()).toMatchObject({ format: 'webp', width: 200, height: 320 })
  })

  it('is served with headers that keep it private, unmistakably a picture, and cached', async () => {
    const sent = await sendToWeighing([await jpegOf(900, 600)])
    const { url, thumbUrl } = sent.body.items[0]
    const full = await get(url, staff)
    expect(full.headers).toMatchObject({
      'content-type': 'image/webp',
      'cache-control': 'private, max-age=31536000, immutable',
      'x-content-type-options': 'nosniff',
      'content-disposition': 'inline',
      vary: 'authorization, cookie',
    })
    const etag = String(full.headers.etag)
    expect(etag).toMatch(/^"[0-9a-f]{64}"$/)
    const again = await get(url, staff, { 'if-none-match': `"other", W/${etag}` })
    expect([again.statusCode, again.rawPayload.length, again.headers.etag]).toEqual([304, 0, etag])
    const thumb = await get(thumbUrl, staff, { 'if-none-match': etag })
    expect(thumb.statusCode).toBe(200)
    expect(thumb.headers.etag).not.toBe(etag)
    const head = await server.app.inject({ method: 'HEAD', url, headers: staff })
    expect([head.statusCode, head.headers['content-length']]).toEqual([200, String(full.rawPayload.length)])
  })

  it('goes with its weighing', async () => {
    const { body } = await send(`/v1/weighings/${others.weighing}/photos`, [await jpegOf(50, 40, 9)])
    const weighing = await ask('GET', `/v1/weighings/${others.weighing}`)
    const url = `/v1/weighings/${others.weighing}?reason=another%20boat%20was%20on%20the%20scale`
    expect((await ask('DELETE', url, undefined, { 'if-match': weighing.etag })).status).toBe(204)
    expect((await get(body.items[0].url, staff)).statusCode).toBe(404)
  })
})

it('takes a file of the largest size', async () => {
  const sent = await sendToWeighing([await paddedJpeg(LARGEST_PHOTO_BYTES)])
  expect(sent.body).toMatchObject({ items: [{ widthPx: 400, heightPx: 300 }] })
})

describe('photos of a haul-out', () => {
  it('are sent several at once and come once each, with a cursor', async () => {
    const files = [await jpegOf(50, 40, 1), await jpegOf(50, 40, 60), await jpegOf(50, 40, 120)]
    const sent = await send(`/v1/haul-outs/${theirs.haulOut}/photos`, [...files, files[0] as Buffer])
    expect(sent.status).toBe(201)
    expect(sent.body.items).toHaveLength(3)
    const filter = `/v1/boats/Wren/photos?haulOut=${theirs.haulOut}&limit=2`
    const first = await ask('GET', filter)
    const second = await ask('GET', `${filter}&cursor=${first.body.nextCursor}`)
    const ids = [...first.body.items, ...second.body.items].map(({ id }: { id: string }) => id)
    expect(ids.sort()).toEqual(sent.body.items.map(({ id }: { id: string }) => id).sort())
    expect(second.body.nextCursor).toBeNull()
    expect(first.body.items[0]).toMatchObject({ haulOutId: theirs.haulOut, weighingId: null, anode: null })
  })

  it('sent again are the same photos', async () => {
    const file = await jpegOf(50, 40, 30)
    const first = await send(`/v1/haul-outs/${theirs.haulOut}/photos`, [file])
    const again = await send(`/v1/haul-outs/${theirs.haulOut}/photos`, [file])
    expect([first.status, again.status]).toEqual([201, 200])
    expect(again.body).toEqual(first.body)
  })

  it('sent again with their Idempotency-Key get the first answer', async () => {
    const key = { 'idempotency-key': randomUUID() }
    const path = `/v1/haul-outs/${theirs.haulOut}/photos`
    const file = await jpegOf(50, 40, 40)
    const first = await send(path, [file], staff, key)
    const again = await send(path, [file], staff, key)
    expect([first.status, again.status]).toEqual([201, 201])
    expect(again.headers.get('idempotent-replay')).toBe('true')
    expect(again.body).toEqual(first.body)
  })
})

describe('who may', () => {
  it('an owner sees the photos of their own boats and nobody else’s', async () => {
    const mine = (await sendToWeighing([await jpegOf(50, 40, 70)])).body.items[0]
    const foreign = (await send(`/v1/haul-outs/${others.haulOut}/photos`, [await jpegOf(50, 40, 71)])).body.items[0]
    expect((await get(mine.url, owner)).statusCode).toBe(200)
    expect((await get(mine.thumbUrl, owner)).statusCode).toBe(200)
    expect((await get('/v1/boats/Wren/photos', owner)).statusCode).toBe(200)
    for (const url of [foreign.url, foreign.thumbUrl, '/v1/boats/Dunlin/photos']) {
      expect((await get(url, owner)).statusCode).toBe(404)
    }
    // Also where the owner's browser asks whether the copy it has from elsewhere still holds.
    expect((await get(foreign.url, owner, { 'if-none-match': '*' })).statusCode).toBe(404)
    expect((await get(mine.url, {})).statusCode).toBe(401)
  })

  it('an owner neither adds nor removes', async () => {
    expect((await sendToWeighing([await jpegOf(50, 40)], owner)).status).toBe(403)
    const mine = (await sendToWeighing([await jpegOf(50, 40, 72)])).body.items[0]
    const headers = { ...owner, 'if-match': '"1"' }
    const refused = await server.app.inject({ method: 'DELETE', url: mine.url, headers })
    expect(refused.statusCode).toBe(403)
  })

  it('nothing is added to what is not there', async () => {
    const missing = await send(`/v1/weighings/${randomUUID()}/photos`, [await jpegOf(50, 40)])
    expect([missing.status, missing.body.detail]).toEqual([404, 'the weighing was not found'])
  })
})

describe('removing', () => {
  it.each(['the version', 'the picture'])('takes If-Match with the tag of %s', async (tagged) => {
    const photo = (await sendToWeighing([await jpegOf(50, 40, tagged.length)])).body.items[0]
    const remove = (headers: Credentials) =>
      server.app.inject({ method: 'DELETE', url: photo.url, headers: { ...staff, ...headers } })
    expect((await remove({})).statusCode).toBe(428)
    expect((await remove({ 'if-match': '"2"' })).statusCode).toBe(412)
    const tag = tagged === 'the version' ? `"${photo.version}"` : String((await get(photo.url, staff)).headers.etag)
    expect((await remove({ 'if-match': tag })).statusCode).toBe(204)
    expect((await get(photo.url, staff)).statusCode).toBe(404)
    expect((await remove({ 'if-match': tag })).statusCode).toBe(404)
  })
})

describe('what is no photo', () => {
  const detailed = (pattern: RegExp) => [{ pointer: '#/photo', detail: expect.stringMatching(pattern) }]

  it.each([
    ['ZIP named .jpg', async () => Buffer.from('PK\x03\x04 and more'), 415, /^photo \(bow\.jpg\) is a ZIP archive/],
    ['drawing with a script', async () => Buffer.from('<svg><script>1</script></svg>'), 415, /SVG/],
    ['picture cut short', async () => (await jpegOf(400, 300)).subarray(0, -300), 422, /damaged or cut short/],
    ['picture of 900 million pixels', async () => whitePng(30_000, 30_000), 422, /30000 × 30000/],
    ['file of 26 MB', () => paddedJpeg(26 * 1024 * 1024), 413, /larger than 25 MB/],
    ['empty file', async () => Buffer.alloc(0), 415, /is empty/],
  ])('%s: refused with a reason, and the service goes on', async (_, make, status, reason) => {
    const before = await ask('GET', '/v1/boats/Wren/photos?limit=200')
    const refused = await sendToWeighing([await jpegOf(60, 40, status % 100), await make()])
    expect(refused.headers.get('content-type')).toContain('application/problem+json')
    expect(refused.body).toMatchObject({ status, errors: detailed(reason) })
    expect(refused.status).toBe(status)
    expect((await ask('GET', '/v1/boats/Wren/photos?limit=200')).body).toEqual(before.body)
    expect((await sendToWeighing([await jpegOf(60, 40, 5)])).status).toBeLessThan(300)
  })

  it('a form without files, and a body that is no form', async () => {
    expect(await sendToWeighing([])).toMatchObject({ status: 422, body: { errors: [{ pointer: '#' }] } })
    const json = await ask('POST', `/v1/weighings/${theirs.weighing}/photos`, { photo: 'data' })
    expect([json.status, json.body.detail]).toEqual([415, 'send photos as file parts of multipart/form-data'])
  })

  it('a field beside the files', async () => {
    const form = new FormData()
    form.append('note', 'crusted')
    form.append('photo', new Blob([new Uint8Array(await jpegOf(50, 40))]), 'a.jpg')
    const url = `${address}/v1/weighings/${theirs.weighing}/photos`
    const answer = await fetch(url, { method: 'POST', body: form, headers: staff })
    expect([answer.status, await answer.json()]).toMatchObject([422, { errors: [{ pointer: '#/note' }] }])
  })

  it('more files than one request may bring', async () => {
    const file = await jpegOf(50, 40, 99)
    const before = await ask('GET', '/v1/boats/Wren/photos?limit=200')
    expect((await sendToWeighing(Array.from({ length: 21 }, () => file))).status).toBe(413)
    expect((await ask('GET', '/v1/boats/Wren/photos?limit=200')).body).toEqual(before.body)
  })
})

describe('a sender that goes away halfway', () => {
  const head = '--cut\r\ncontent-disposition: form-data; name="photo"; filename="a.jpg"\r\n\r\n'
  const tail = '\r\n--cut--\r\n'
  let form: Buffer
  let firstEnds: number

  async function makeForm(seed: number) {
    const parts = [
      Buffer.from(head),
      await paddedJpeg(3_000_000),
      Buffer.from(`\r\n${head}`),
      await jpegOf(64, 48, seed),
    ]
    firstEnds = Buffer.concat(parts.slice(0, 2)).length
    form = Buffer.concat([...parts, Buffer.from(tail)])
  }

  function startSending(key: string) {
    const headers = {
      ...staff,
      'idempotency-key': key,
      'content-type': 'multipart/form-data; boundary=cut',
      'content-length': form.length,
    }
    const sending = request(`${address}/v1/weighings/${theirs.weighing}/photos`, { method: 'POST', headers })
    sending.on('error', () => {})
    return sending
  }

  async function sendAll(key: string): Promise<number | undefined> {
    const sending = startSending(key)
    const answer = new Promise<number | undefined>((resolve) => {
      sending.on('response', (response) => resolve(response.resume().statusCode))
    })
    sending.end(form)
    return answer
  }

  it.each([
    ['within a photo', 33, () => 1_000_000],
    ['between two photos', 66, () => firstEnds + 20],
  ])('%s: leaves nothing behind, and may come again with the same Idempotency-Key', async (_, seed, sentBytes) => {
    const key = randomUUID()
    await makeForm(seed)
    const before = await ask('GET', '/v1/boats/Wren/photos?limit=200')
    const sending = startSending(key)
    await new Promise((resolve) => sending.write(form.subarray(0, sentBytes()), resolve))
    // Long enough for the service to have read what was sent.
    await new Promise((resolve) => setTimeout(resolve, 500))
    sending.destroy()
    await new Promise((resolve) => setTimeout(resolve, 100))
    expect((await ask('GET', '/v1/boats/Wren/photos?limit=200')).body).toEqual(before.body)
    await vi.waitUntil(async () => (await sendAll(key)) === 201, { timeout: 5000, interval: 100 })
    const after = await ask('GET', '/v1/boats/Wren/photos?limit=200')
    expect(after.body.items.length).toBeGreaterThan(before.body.items.length)
  })
})
