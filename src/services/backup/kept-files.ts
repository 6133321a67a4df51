import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { mkdir, open } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { createInterface } from 'node:readline'
import { createGunzip, createGzip } from 'node:zlib'
import type { KeptFile } from './manifest.js'

/** Secrets and people's addresses are among what is kept. */
const OWNER_ONLY = 0o600

/** Writes one file of a backup to the disk, all the way, and says what is in it. */
export async function keepFile(
  folder: string,
  name: string,
  content: Iterable<Uint8Array> | AsyncIterable<Uint8Array>,
): Promise<KeptFile> {
  const path = join(folder, name)
  await mkdir(dirname(path), { recursive: true })
  const hash = createHash('sha256')
  let bytes = 0
  const file = await open(path, 'wx', OWNER_ONLY)
  try {
    for await (const chunk of content) {
      hash.update(chunk)
      bytes += chunk.byteLength
      await file.writeFile(chunk)
    }
    await file.sync()
  } finally {
    await file.close()
  }
  return { name, bytes, sha256: hash.digest('hex') }
}

/** Lines as they are kept: compressed, each with its end. */
export function compressed(lines: AsyncIterable<string>): AsyncIterable<Uint8Array> {
  const gzip = createGzip()
  const feed = async () => {
    for await (const line of lines) {
      if (!gzip.write(`${line}\n`)) await new Promise((resolve) => gzip.once('drain', resolve))
    }
    gzip.end()
  }
  feed().catch((error: Error) => gzip.destroy(error))
  return gzip
}

export function linesOfFile(path: string): AsyncIterable<string> {
  const unpacked = createReadStream(path).on('error', (error) => gunzip.destroy(error))
  const gunzip = createGunzip()
  return createInterface({ input: unpacked.pipe(gunzip), crlfDelay: Number.POSITIVE_INFINITY })
}

/** @throws Error naming the file that is missing, or is not what was kept */
export async function checkFile(folder: string, { name, bytes, sha256 }: KeptFile): Promise<void> {
  const hash = createHash('sha256')
  let length = 0
  try {
    for await (const chunk of createReadStream(join(folder, name)) as AsyncIterable<Buffer>) {
      hash.update(chunk)
      length += chunk.byteLength
    }
  } catch (error) {
    throw new Error(`the backup is not whole: ${name} cannot be read`, { cause: error })
  }
  if (length !== bytes || hash.digest('hex') !== sha256) {
    throw new Error(`the backup is damaged: ${name} is not what was kept`)
  }
}
