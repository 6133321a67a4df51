import { createHash } from 'node:crypto'
import sharp, { type Metadata } from 'sharp'
import { MOST_PHOTO_PIXELS, PHOTO_SIDE_PX, THUMB_SIDE_PX } from '../../contract/photos.js'
import { Invalid, UnsupportedKind } from '../errors.js'
import { pictureKindOf, sayOtherKind } from './file-kinds.js'

/** A photo as it is stored: upright, small enough for a screen, without what the camera wrote along. */
export interface Picture {
  /** WebP. */
  readonly full: Buffer
  /** WebP. */
  readonly thumb: Buffer
  /** Hash of `full`, in hexadecimal. */
  readonly sha256: string
  readonly widthPx: number
  readonly heightPx: number
}

/** The part of a request that a picture came in. */
export interface PartName {
  readonly pointer: string
  /** As a sentence begins: `photo (bow.jpg)`. */
  readonly words: string
}

export const STORED_MEDIA_TYPE = 'image/webp'

/** A picture of the largest size takes about two seconds on one slow core. */
const LONGEST_DECODING_S = 30

/**
 * Turns a file into what is stored. Its kind is found from its bytes. It is turned as the camera was held, scaled down
 * to the longer side `PHOTO_SIDE_PX`, converted to sRGB and written anew without metadata: no position, no serial number.
 *
 * @throws UnsupportedKind for anything but JPEG, PNG and WebP
 * @throws Invalid for more than `MOST_PHOTO_PIXELS` (found in the header, before anything is decoded) and broken files
 */
export async function preparePicture(file: Uint8Array, part: PartName): Promise<Picture> {
  const refuse = (reason: string) => new Invalid([{ pointer: part.pointer, detail: `${part.words} ${reason}` }])
  const kind = pictureKindOf(file)
  if (kind === undefined) {
    throw new UnsupportedKind([{ pointer: part.pointer, detail: `${part.words} ${sayOtherKind(file)}` }])
  }
  const header = await headerOf(file)
  if (header?.format !== kind) throw refuse(BROKEN)
  const pixels = header.width * header.height
  if (pixels > MOST_PHOTO_PIXELS) {
    const size = `${header.width} × ${header.height} pixels`
    throw refuse(`has ${size}; at most ${MOST_PHOTO_PIXELS / 1e6} million are taken: send a smaller picture`)
  }
  try {
    return await encode(file)
  } catch (error) {
    if (isTimeout(error)) throw refuse(`could not be decoded within ${LONGEST_DECODING_S} seconds`)
    throw refuse(BROKEN)
  }
}

const BROKEN = 'cannot be read: the file is damaged or cut short'

/** Reads the header alone. The limit is off, so that too large a picture is told from a broken one. */
async function headerOf(file: Uint8Array): Promise<Metadata | undefined> {
  try {
    return await sharp(file, { limitInputPixels: false }).metadata()
  } catch {
    return undefined
  }
}

async function encode(file: Uint8Array): Promise<Picture> {
  const { data: full, info } = await sharp(file, { limitInputPixels: MOST_PHOTO_PIXELS, failOn: 'error' })
    .timeout({ seconds: LONGEST_DECODING_S })
    .autoOrient()
    .resize({ width: PHOTO_SIDE_PX, height: PHOTO_SIDE_PX, fit: 'inside', withoutEnlargement: true })
    .webp()
    .toBuffer({ resolveWithObject: true })
  const thumb = await sharp(full)
    .resize({ width: THUMB_SIDE_PX, height: THUMB_SIDE_PX, fit: 'inside', withoutEnlargement: true })
    .webp()
    .toBuffer()
  const sha256 = createHash('sha256').update(full).digest('hex')
  return { full, thumb, sha256, widthPx: info.width, heightPx: info.height }
}

function isTimeout(error: unknown): boolean {
  return error instanceof Error && error.message.includes('timeout')
}
