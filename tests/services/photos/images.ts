import { crc32, deflateSync } from 'node:zlib'
import sharp, { type Sharp } from 'sharp'

const RED = { r: 220, g: 30, b: 30 }
const BLUE = { r: 30, g: 30, b: 220 }

/** A picture whose left half is red and whose right half is blue; `seed` makes it another one. */
export function halves(width: number, height: number, seed = 0): Sharp {
  const left = { create: { width: Math.floor(width / 2), height, channels: 3 as const, background: RED } }
  return sharp({ create: { width, height, channels: 3, background: { ...BLUE, g: seed } } }).composite([
    { input: left, left: 0, top: 0 },
  ])
}

export const jpegOf = (width: number, height: number, seed = 0): Promise<Buffer> =>
  halves(width, height, seed).jpeg().toBuffer()

/**
 * As a phone held upright writes it: the sensor's rows lie across, EXIF orientation 6 says "turn right by 90°" (CIPA
 * DC-008, 4.6.4: row 0 is the right side, column 0 the top), and the position stands beside.
 */
export function phoneJpeg(): Promise<Buffer> {
  return halves(320, 200)
    .jpeg()
    .withExif({
      IFD0: { Make: 'Invented camera' },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 0/1', GPSLongitudeRef: 'W', GPSLongitude: '3/1 12/1 0/1' },
    })
    .withMetadata({ orientation: 6 })
    .toBuffer()
}

/** A sound picture with zeros after its end, which readers of JPEG pass over: a file as large as asked for. */
export async function paddedJpeg(bytes: number): Promise<Buffer> {
  const picture = await jpegOf(400, 300)
  return Buffer.concat([picture, Buffer.alloc(bytes - picture.length)])
}

/** A white PNG of any size in a few bytes a row: W3C PNG (third edition), 5.3 and 11.2.1; one bit a pixel. */
export const whitePng = (width: number, height: number): Buffer => pngOfChunks(width, height, [])

/** The same with further chunks between its header and its pixels. */
export function pngOfChunks(width: number, height: number, further: readonly (readonly [string, Buffer])[]): Buffer {
  const header = Buffer.alloc(13)
  header.writeUInt32BE(width, 0)
  header.writeUInt32BE(height, 4)
  header.set([1, 0, 0, 0, 0], 8)
  const row = Buffer.concat([Buffer.from([0]), Buffer.alloc(Math.ceil(width / 8), 0xff)])
  const rows = Buffer.alloc(row.length * height)
  for (let at = 0; at < height; at++) row.copy(rows, at * row.length)
  const signature = Buffer.from('\x89PNG\r\n\x1a\n', 'latin1')
  const between = further.map(([type, data]) => chunk(type, data))
  const chunks = [chunk('IHDR', header), ...between, chunk('IDAT', deflateSync(rows)), chunk('IEND', Buffer.alloc(0))]
  return Buffer.concat([signature, ...chunks])
}

function chunk(type: string, data: Buffer): Buffer {
  const length = Buffer.alloc(4)
  length.writeUInt32BE(data.length)
  const typed = Buffer.concat([Buffer.from(type, 'latin1'), data])
  const check = Buffer.alloc(4)
  check.writeUInt32BE(crc32(typed))
  return Buffer.concat([length, typed, check])
}

/** The colour in the middle of one quarter of a picture, as the nearest of red and blue. */
export async function colourAt(picture: Buffer, acrossShare: number, downShare: number): Promise<'red' | 'blue'> {
  const { data, info } = await sharp(picture).raw().toBuffer({ resolveWithObject: true })
  const at = Math.floor(info.height * downShare) * info.width + Math.floor(info.width * acrossShare)
  return (data[at * info.channels] ?? 0) > (data[at * info.channels + 2] ?? 0) ? 'red' : 'blue'
}
