import { LARGEST_PHOTO_BYTES } from '../../contract/photos.js'
import { Invalid, TooLarge } from '../errors.js'
import type { PartName } from './picture.js'

/** A file as it comes in, to be read once. */
export interface PhotoUpload {
  /** Name of the part. */
  readonly part: string
  readonly fileName: string | undefined
  readonly content: AsyncIterable<Uint8Array>
}

const LONGEST_FILE_NAME_SHOWN = 80

/** What a refusal calls a part: its own name and that of its file. */
export function partNameOf({ part, fileName }: PhotoUpload): PartName {
  const pointer = `#/${part.replaceAll('~', '~0').replaceAll('/', '~1')}`
  return { pointer, words: fileName ? `${part} (${fileName.slice(0, LONGEST_FILE_NAME_SHOWN)})` : part }
}

/**
 * Reads a file to its end, and keeps no more of it than is taken.
 *
 * @throws TooLarge
 */
export async function readUpload(upload: PhotoUpload): Promise<Buffer> {
  const chunks: Uint8Array[] = []
  let length = 0
  for await (const chunk of upload.content) {
    length += chunk.byteLength
    if (length <= LARGEST_PHOTO_BYTES) chunks.push(chunk)
    else chunks.length = 0
  }
  if (length <= LARGEST_PHOTO_BYTES) return Buffer.concat(chunks)
  const { pointer, words } = partNameOf(upload)
  throw new TooLarge([
    { pointer, detail: `${words} is larger than ${LARGEST_PHOTO_BYTES / 1024 / 1024} MB: send a smaller picture` },
  ])
}

/** @throws Invalid always: a request without any photo */
export function refuseNothing(): never {
  throw new Invalid([{ pointer: '#', detail: 'send at least one photo, each as a file part of multipart/form-data' }])
}
