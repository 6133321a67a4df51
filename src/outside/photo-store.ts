import { randomUUID } from 'node:crypto'
import { access, constants, mkdir, open, rename, rm } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { Disk, type DriveDirectory, type DriveFile } from 'flydrive'
import { FSDriver } from 'flydrive/drivers/fs'
import type { S3DriverOptions } from 'flydrive/drivers/s3/types'

/** Where the bytes of photos lie, each under a key such as `folder/name.webp`. */
export interface PhotoStore {
  /** Stores all of it or nothing; the same key again is overwritten. Once this is done the bytes outlive a crash. */
  put(key: string, bytes: Uint8Array, mediaType: string): Promise<void>
  /** Undefined when there is nothing under the key. */
  get(key: string): Promise<Uint8Array | undefined>
  has(key: string): Promise<boolean>
  /** Deleting what is not there is fine. */
  delete(key: string): Promise<void>
  /** Every key, in no order. */
  keys(): AsyncIterable<string>
  /** Undefined when there is nothing under the key. */
  storedAt(key: string): Promise<Date | undefined>
  /** Asks the store for next to nothing. @throws Error where photos could not be kept there just now */
  answers(): Promise<void>
}

/**
 * A store that is silent for longer counts as away: the client alone would wait for ever. A photo of a few megabytes is there in seconds, over
 * the worst line too.
 */
const STORE_LIMITS_MS = { connectionTimeout: 5_000, requestTimeout: 30_000 }

/**
 * Opens the store that PHOTO_STORE names, or the folder when it names none.
 *
 * `s3://BUCKET?endpoint=URL&region=…&accessKeyId=…&secretAccessKey=…`: without an endpoint the bucket is at AWS; without
 * keys they come from where the AWS client finds them (AWS_ACCESS_KEY_ID, the machine's role). Characters that an
 * address may not hold are written as %XX.
 *
 * @throws Error when the address cannot be used
 */
export async function openPhotoStore(address: string | undefined, folder: string): Promise<PhotoStore> {
  if (address === undefined) return folderPhotoStore(folder)
  const options = bucketOf(address)
  // The client takes a third of a second to load: only where it is wanted.
  const { S3Driver } = await import('flydrive/drivers/s3')
  const requestHandler = { ...STORE_LIMITS_MS, throwOnRequestTimeout: true }
  const disk = new Disk(new S3Driver({ ...options, requestHandler }))
  return storeOn(disk, async () => {
    await disk.exists(NO_PHOTO)
  })
}

/** A key that no photo has: a bucket that knows so is there, and lets itself be asked. */
const NO_PHOTO = 'readiness'

export function folderPhotoStore(folder: string): PhotoStore {
  const disk = new Disk(new WholeFiles({ location: folder, visibility: 'private' }))
  return storeOn(disk, async () => {
    await mkdir(folder, { recursive: true })
    await access(folder, constants.R_OK | constants.W_OK)
  })
}

/**
 * The library writes a file in place, where a reader may meet half of it and a crash may leave half of it for good under
 * a name that promises the whole. Here it is written beside, brought to the disk and then renamed.
 */
class WholeFiles extends FSDriver {
  override async put(key: string, contents: string | Uint8Array): Promise<void> {
    const target = join(String(this.options.location), key)
    const draft = `${target}.${randomUUID()}.part`
    await mkdir(dirname(target), { recursive: true })
    try {
      await writeSynced(draft, contents)
      await rename(draft, target)
    } catch (error) {
      await rm(draft, { force: true })
      throw error
    }
    await syncFolder(dirname(target))
  }
}

async function writeSynced(path: string, contents: string | Uint8Array): Promise<void> {
  const file = await open(path, 'wx')
  try {
    await file.writeFile(contents)
    await file.sync()
  } finally {
    await file.close()
  }
}

/** A new name is safe once its folder is. */
async function syncFolder(path: string): Promise<void> {
  const folder = await open(path, 'r')
  try {
    await folder.sync()
  } finally {
    await folder.close()
  }
}

function storeOn(disk: Disk, answers: PhotoStore['answers']): PhotoStore {
  return {
    answers,
    put: (key, bytes, contentType) => disk.put(key, bytes, { contentType }),
    get: (key) => ifThere(() => disk.getBytes(key)),
    has: (key) => disk.exists(key),
    delete: (key) => disk.delete(key),
    keys: () => keysOf(disk),
    storedAt: async (key) => (await ifThere(() => disk.getMetaData(key)))?.lastModified,
  }
}

async function ifThere<Value>(read: () => Promise<Value>): Promise<Value | undefined> {
  try {
    return await read()
  } catch (error) {
    if (isMissing(error)) return undefined
    throw error
  }
}

/** The library wraps what its drivers throw: a file system's ENOENT, an object store's 404. */
function isMissing(error: unknown): boolean {
  if (!(error instanceof Error)) return false
  const { code, $metadata } = error as { code?: unknown; $metadata?: { httpStatusCode?: number } }
  return code === 'ENOENT' || $metadata?.httpStatusCode === 404 || isMissing(error.cause)
}

async function* keysOf(disk: Disk): AsyncIterable<string> {
  let paginationToken: string | undefined
  do {
    const page: { paginationToken?: string; objects: Iterable<DriveFile | DriveDirectory> } = await disk.listAll('', {
      recursive: true,
      ...(paginationToken === undefined ? {} : { paginationToken }),
    })
    for (const object of page.objects) if (object.isFile) yield object.key
    paginationToken = page.paginationToken
  } while (paginationToken !== undefined)
}

const S3_PARAMETERS: ReadonlySet<string> = new Set(['endpoint', 'region', 'accessKeyId', 'secretAccessKey'])
/** What AWS itself takes where no region is named, and what other object stores ignore. */
const DEFAULT_REGION = 'us-east-1'

/** What the address of a bucket says. @throws Error */
export function bucketOf(address: string): S3DriverOptions {
  const url = URL.canParse(address) ? new URL(address) : undefined
  if (url?.protocol !== 's3:' || url.hostname === '') throw unusable('it must read s3://BUCKET?endpoint=…&region=…')
  // A plus stands for itself: secret keys hold it, and a form's "plus is a space" would spoil them.
  const given = new URLSearchParams(url.search.replaceAll('+', '%2B'))
  for (const name of given.keys()) if (!S3_PARAMETERS.has(name)) throw unusable(`${name} is not known`)
  const endpoint = given.get('endpoint')
  if (endpoint !== null && !/^https?:\/\//.test(endpoint))
    throw unusable('endpoint must begin with http:// or https://')
  const [accessKeyId, secretAccessKey] = [given.get('accessKeyId'), given.get('secretAccessKey')]
  if ((accessKeyId === null) !== (secretAccessKey === null)) {
    throw unusable('accessKeyId and secretAccessKey go together')
  }
  return {
    bucket: url.hostname,
    visibility: 'private',
    // Other object stores have no access lists, and AWS makes new buckets without.
    supportsACL: false,
    region: given.get('region') ?? DEFAULT_REGION,
    // Nor do all of them know the checksums that the client has come to add.
    requestChecksumCalculation: 'WHEN_REQUIRED',
    responseChecksumValidation: 'WHEN_REQUIRED',
    ...(endpoint === null ? {} : { endpoint, forcePathStyle: true }),
    ...(accessKeyId === null || secretAccessKey === null ? {} : { credentials: { accessKeyId, secretAccessKey } }),
  }
}

/** The address holds a secret: the message says what is wrong, and never repeats it. */
function unusable(reason: string): Error {
  return new Error(`PHOTO_STORE cannot be used: ${reason}`)
}
