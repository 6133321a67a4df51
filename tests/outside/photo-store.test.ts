import { createHash } from 'node:crypto'
import { mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import S3rver from 's3rver'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { bucketOf, folderPhotoStore, openPhotoStore, type PhotoStore } from '../../src/outside/photo-store.js'

const BUCKET = 'anode-photos'
const key = 'a6b8f0de-0000-4000-8000-000000000001/picture.webp'
const bytes = (length: number, start = 0) => Uint8Array.from({ length }, (_, at) => (at + start) % 256)

const folder = mkdtempSync(join(tmpdir(), 'photo-store-'))
let bucket: S3rver
let address: string

beforeAll(async () => {
  bucket = new S3rver({
    port: 0,
    address: '127.0.0.1',
    silent: true,
    directory: join(folder, 's3'),
    configureBuckets: [{ name: BUCKET, configs: [] }],
  })
  const { port } = await bucket.run()
  const endpoint = encodeURIComponent(`http://127.0.0.1:${port}`)
  address = `s3://${BUCKET}?endpoint=${endpoint}&region=eu-west-1&accessKeyId=S3RVER&secretAccessKey=S3RVER`
})
afterAll(async () => {
  await bucket.close()
  rmSync(folder, { recursive: true, force: true })
})

async function keysOf(store: PhotoStore): Promise<string[]> {
  const keys: string[] = []
  for await (const one of store.keys()) keys.push(one)
  return keys.sort()
}

describe.each([
  ['a folder', async () => folderPhotoStore(join(folder, 'files'))],
  ['a bucket', () => openPhotoStore(address, 'not used')],
])('photos in %s', (_, open) => {
  let store: PhotoStore
  beforeAll(async () => {
    store = await open()
  })

  it.each([1, 300, 400_000])('gives back the very %i bytes', async (length) => {
    await store.put(key, bytes(length), 'image/webp')
    expect(hashOf(await store.get(key))).toBe(hashOf(bytes(length)))
    expect(await store.has(key)).toBe(true)
  })

  it('overwrites, and gives what it gave before as it was', async () => {
    await store.put(key, bytes(1000), 'image/webp')
    const before = await store.get(key)
    await store.put(key, bytes(1000, 7), 'image/webp')
    expect(before).toEqual(bytes(1000))
    expect(await store.get(key)).toEqual(bytes(1000, 7))
  })

  it('knows what is not there', async () => {
    expect(await store.get('nobody/nothing.webp')).toBeUndefined()
    expect(await store.has('nobody/nothing.webp')).toBe(false)
    expect(await store.storedAt('nobody/nothing.webp')).toBeUndefined()
    await expect(store.delete('nobody/nothing.webp')).resolves.toBeUndefined()
  })

  it('lists its keys, says since when, and deletes', async () => {
    const started = Date.now()
    const other = key.replace('picture', 'picture.thumb')
    await store.put(key, bytes(10), 'image/webp')
    await store.put(other, bytes(10), 'image/webp')
    expect(await keysOf(store)).toEqual([other, key].sort())
    const storedAt = await store.storedAt(key)
    // An object store tells whole seconds.
    expect(storedAt?.getTime()).toBeGreaterThan(started - 2000)
    expect(storedAt?.getTime()).toBeLessThan(Date.now() + 2000)
    await store.delete(other)
    expect(await keysOf(store)).toEqual([key])
  })

  it('leads nobody out of it', async () => {
    await expect(store.put('../escaped.webp', bytes(1), 'image/webp')).rejects.toThrow()
    await expect(store.get('../../etc/passwd')).rejects.toThrow()
  })
})

it('lets a reader of a folder meet one writer or another, whole', async () => {
  const store = folderPhotoStore(join(folder, 'contested'))
  const versions = [1, 2, 3, 4].map((start) => bytes(200_000, start))
  await store.put(key, bytes(200_000), 'image/webp')
  const writing = versions.map((version) => store.put(key, version, 'image/webp'))
  const read = await Promise.all(Array.from({ length: 20 }, () => store.get(key)))
  await Promise.all(writing)
  const hashes = new Set([bytes(200_000), ...versions].map(hashOf))
  for (const one of [...read, await store.get(key)]) expect(hashes).toContain(hashOf(one))
})

it('leaves no half-written file in a folder', async () => {
  const store = folderPhotoStore(join(folder, 'whole'))
  await store.put(key, bytes(5000), 'image/webp')
  expect(readdirSync(join(folder, 'whole', key, '..'))).toEqual(['picture.webp'])
})

describe('the address of a bucket', () => {
  it.each([
    ['https://example.org/photos', 's3://BUCKET'],
    ['s3://', 's3://BUCKET'],
    ['s3://photos?endpont=http://localhost', 'endpont is not known'],
    ['s3://photos?endpoint=localhost:9000', 'endpoint must begin with http'],
    ['s3://photos?accessKeyId=only', 'go together'],
  ])('%s is refused with a reason', async (wrong, reason) => {
    await expect(openPhotoStore(wrong, '')).rejects.toThrow(reason)
    await expect(openPhotoStore(wrong, '')).rejects.toThrow('PHOTO_STORE cannot be used')
  })

  it('keeps a plus and a slash in a secret key, and has no keys where none are given', () => {
    const odd = 's3://photos?accessKeyId=AK+1&secretAccessKey=a+b/c%25'
    expect(bucketOf(odd)).toMatchObject({ credentials: { accessKeyId: 'AK+1', secretAccessKey: 'a+b/c%' } })
    expect(bucketOf('s3://photos')).not.toHaveProperty('credentials')
  })
})

function hashOf(content: Uint8Array | undefined): string {
  return createHash('sha256')
    .update(content ?? '')
    .digest('hex')
}
