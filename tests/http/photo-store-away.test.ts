import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import S3rver from 's3rver'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { openPhotoStore } from '../../src/outside/photo-store.js'
import { jpegOf } from '../services/photos/images.js'
import { expectProblem } from './problem-schema.js'
import { startTestServer, type TestServer } from './server.js'

const folder = mkdtempSync(join(tmpdir(), 'store-away-'))
let bucket: S3rver
let server: TestServer
let clock = Date.parse('2031-06-15T12:00:00Z')

beforeAll(async () => {
  bucket = new S3rver({
    port: 0,
    address: '127.0.0.1',
    silent: true,
    directory: folder,
    configureBuckets: [{ name: 'photos', configs: [] }],
  })
  const endpoint = encodeURIComponent(`http://127.0.0.1:${(await bucket.run()).port}`)
  const address = `s3://photos?endpoint=${endpoint}&accessKeyId=S3RVER&secretAccessKey=S3RVER`
  const photoStore = await openPhotoStore(address, 'not used')
  server = await startTestServer({ photoStore, now: () => new Date(clock) })
})
afterAll(async () => {
  await server.close()
  rmSync(folder, { recursive: true, force: true })
})

it('says of a bucket that is away that it is the photo store, in readiness and to whoever sends a photo', async () => {
  const headers = await server.actorOf('staff')
  const post = (url: string, payload: object) => server.app.inject({ method: 'POST', url, headers, payload })
  await post('/v1/boats', { name: 'Wren' })
  const lift = (await post('/v1/boats/Wren/haul-outs', { hauledOn: '2031-04-19' })).json()
  const sendPhoto = async () => {
    const form = new FormData()
    form.append('photo', new Blob([new Uint8Array(await jpegOf(20, 20))]), 'bow.jpg')
    const body = new Response(form)
    return server.app.inject({
      method: 'POST',
      url: `/v1/haul-outs/${(lift.haulOut ?? lift).id}/photos`,
      headers: { ...headers, 'content-type': body.headers.get('content-type') ?? '' },
      payload: Buffer.from(await body.arrayBuffer()),
    })
  }
  expect((await server.app.inject('/health/ready')).statusCode).toBe(200)
  expect((await sendPhoto()).statusCode).toBe(201)

  await bucket.close()
  clock += 60_000
  const notReady = expectProblem(await server.app.inject('/health/ready'), 503)
  expect(notReady).toMatchObject({ detail: 'the photo store does not answer', away: ['the photo store'] })
  const answer = await sendPhoto()
  expect(expectProblem(answer, 503).detail).toBe(
    'the photo store does not answer just now; send the request again in a moment',
  )
  expect(answer.headers['retry-after']).toBe('5')
  // All else goes on.
  expect((await server.app.inject({ url: '/v1/boats/Wren', headers })).statusCode).toBe(200)
})
