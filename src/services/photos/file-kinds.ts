/** Kinds of pictures that are read. */
export type PictureKind = 'jpeg' | 'png' | 'webp'

/** First bytes of a file, as characters of one byte each; `?` stands for any. */
const PICTURES: readonly (readonly [PictureKind, string])[] = [
  // ITU-T T.81, B.1.1.3: start of image, then the first byte of any marker.
  ['jpeg', '\xff\xd8\xff'],
  // W3C PNG (third edition), 5.2.
  ['png', '\x89PNG\r\n\x1a\n'],
  // RFC 9649, 2.4: a RIFF container of form WEBP, its size between.
  ['webp', 'RIFF????WEBP'],
]

/** Brands of ISO/IEC 14496-12 file types that ISO/IEC 23008-12 and the AV1 image format give to still pictures. */
const HEIC_BRANDS: ReadonlySet<string> = new Set(['heic', 'heix', 'heim', 'heis', 'hevc', 'hevx', 'mif1', 'msf1'])
const AVIF_BRANDS: ReadonlySet<string> = new Set(['avif', 'avis'])

/** Other files that people send by mistake. */
const OTHERS: readonly (readonly [string, string])[] = [
  ['a GIF picture', 'GIF8'],
  ['a TIFF picture', 'II*\0'],
  ['a TIFF picture', 'MM\0*'],
  ['a PDF document', '%PDF-'],
  ['a ZIP archive', 'PK\x03\x04'],
  ['an empty ZIP archive', 'PK\x05\x06'],
]

const LOOKED_AT = 1024

/** The kind of picture that a file's first bytes make it, whatever its name says. */
export function pictureKindOf(file: Uint8Array): PictureKind | undefined {
  const start = textOf(file)
  return PICTURES.find(([, signature]) => beginsWith(start, signature))?.[0]
}

/** What a file that is not taken seems to be, and what to send instead. */
export function sayOtherKind(file: Uint8Array): string {
  const start = textOf(file)
  const brand = start.slice(4, 8) === 'ftyp' ? start.slice(8, 12) : ''
  if (HEIC_BRANDS.has(brand)) {
    return 'is a HEIC picture, which is not read here: choose JPEG, or set the camera to write JPEG'
  }
  return `${otherKind(start, brand)}; send a JPEG, PNG or WebP picture`
}

function otherKind(start: string, brand: string): string {
  if (start === '') return 'is empty'
  if (AVIF_BRANDS.has(brand)) return 'is an AVIF picture'
  const other = OTHERS.find(([, signature]) => start.startsWith(signature))
  if (other) return `is ${other[0]}`
  return /<svg[\s>]/i.test(start) ? 'is an SVG drawing' : 'is not a picture'
}

function textOf(file: Uint8Array): string {
  return Buffer.from(file.subarray(0, LOOKED_AT)).toString('latin1')
}

function beginsWith(start: string, signature: string): boolean {
  if (start.length < signature.length) return false
  return [...signature].every((character, at) => character === '?' || start[at] === character)
}
