import { createHash } from 'node:crypto'
import { zipSync } from 'fflate'
import sharp from 'sharp'
import { beforeAll, describe, expect, it } from 'vitest'
import { Invalid, UnsupportedKind } from '../../../src/services/errors.js'
import { preparePicture } from '../../../src/services/photos/picture.js'
import { colourAt, halves, jpegOf, phoneJpeg, whitePng } from './images.js'

const part = { pointer: '#/photo', words: 'photo (bow.jpg)' }
const prepare = (file: Buffer) => preparePicture(file, part)

async function refusalOf(file: Buffer): Promise<Invalid> {
  const refusal = await prepare(file).catch((error: unknown) => error)
  if (!(refusal instanceof Invalid)) throw new Error(`not refused: ${refusal}`)
  expect(refusal.errors).toEqual([{ pointer: '#/photo', detail: expect.stringMatching(/^photo \(bow\.jpg\) /) }])
  return refusal
}

describe('a photo as a phone writes it', () => {
  let file: Buffer
  beforeAll(async () => {
    file = await phoneJpeg()
  })

  it('really holds an orientation and a position before', async () => {
    const { orientation, exif, width, height } = await sharp(file).metadata()
    expect([width, height, orientation]).toEqual([320, 200, 6])
    // CIPA DC-008, 4.6.3: tag 8825 (hexadecimal) of IFD0 points to the GPS tags.
    expect(exif?.includes(Buffer.from([0x25, 0x88]))).toBe(true)
  })

  it('is turned upright: what the sensor saw on its left comes to the top', async () => {
    const { full, widthPx, heightPx } = await prepare(file)
    expect([widthPx, heightPx]).toEqual([200, 320])
    expect(await colourAt(full, 0.5, 0.25)).toBe('red')
    expect(await colourAt(full, 0.5, 0.75)).toBe('blue')
  })

  it('loses its position and all else that the camera wrote along, in both sizes', async () => {
    const { full, thumb } = await prepare(file)
    for (const stored of [full, thumb]) {
      const { format, exif, xmp, iptc, icc, orientation } = await sharp(stored).metadata()
      expect({ format, exif, xmp, iptc, icc, orientation }).toEqual({ format: 'webp' })
      expect(stored.includes('Invented camera')).toBe(false)
    }
  })
})

describe('sizes', () => {
  it('keeps the longer side to 1600 px and a thumbnail to 400 px, in proportion', async () => {
    const { full, thumb, widthPx, heightPx } = await prepare(await jpegOf(4000, 3000))
    expect([widthPx, heightPx]).toEqual([1600, 1200])
    expect(await sharp(full).metadata()).toMatchObject({ width: 1600, height: 1200 })
    expect(await sharp(thumb).metadata()).toMatchObject({ width: 400, height: 300, format: 'webp' })
  })

  it('never enlarges', async () => {
    const { thumb, widthPx, heightPx } = await prepare(await jpegOf(60, 90))
    expect([widthPx, heightPx]).toEqual([60, 90])
    expect(await sharp(thumb).metadata()).toMatchObject({ width: 60, height: 90 })
  })

  it('names a picture by the hash of its stored bytes, the same each time', async () => {
    const file = await jpegOf(500, 400)
    const [first, second] = [await prepare(file), await prepare(file)]
    expect(first.sha256).toBe(createHash('sha256').update(first.full).digest('hex'))
    expect(second.sha256).toBe(first.sha256)
  })
})

describe('kinds', () => {
  it.each([
    ['PNG', () => halves(30, 20).png().toBuffer()],
    ['WebP', () => halves(30, 20).webp().toBuffer()],
    ['JPEG in the colours of print', () => halves(30, 20).toColourspace('cmyk').jpeg().toBuffer()],
    ['PNG with transparency', () => halves(30, 20).ensureAlpha(0.5).png().toBuffer()],
  ])('takes %s', async (_, make) => {
    expect(await prepare(await make())).toMatchObject({ widthPx: 30, heightPx: 20 })
  })

  const heic = Buffer.from('\0\0\0\x18ftypheic\0\0\0\0mif1heic', 'latin1')
  const svg = '<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
  it.each([
    ['a ZIP archive', () => Buffer.from(zipSync({ 'a.txt': Buffer.from('a') })), 'is a ZIP archive'],
    ['an SVG drawing with a script', () => Buffer.from(svg), 'is an SVG drawing'],
    ['a PDF document', () => Buffer.from('%PDF-1.7\n'), 'is a PDF document'],
    ['a GIF picture', () => halves(3, 2).gif().toBuffer(), 'is a GIF picture'],
    ['an AVIF picture', () => halves(30, 20).avif().toBuffer(), 'is an AVIF picture'],
    ['text', () => Buffer.from('no picture at all'), 'is not a picture'],
    ['nothing', () => Buffer.alloc(0), 'is empty'],
    ['a HEIC picture', () => heic, 'choose JPEG'],
  ])('refuses %s by what its bytes are', async (_, make, reason) => {
    const refusal = await refusalOf(await make())
    expect(refusal).toBeInstanceOf(UnsupportedKind)
    expect(refusal.message).toContain(reason)
    expect(refusal.message).toContain('JPEG')
  })
})

describe('files that would do harm', () => {
  it('refuses a picture of 900 million pixels by its header, without decoding it', async () => {
    const bomb = whitePng(30_000, 30_000)
    expect(bomb.length).toBeLessThan(200_000)
    const before = performance.now()
    const refusal = await refusalOf(bomb)
    // Decoding it takes several times as long, and as many pixels in colour would take 2.7 GB.
    expect(performance.now() - before).toBeLessThan(500)
    expect(refusal.message).toContain('30000 × 30000 pixels')
    expect(refusal.message).toContain('50 million')
  })

  it('takes as many pixels as the limit allows and refuses one row more', async () => {
    expect(await prepare(whitePng(10_000, 5_000))).toMatchObject({ widthPx: 1600, heightPx: 800 })
    await refusalOf(whitePng(10_000, 5_001))
  })

  it.each([
    ['cut short', async () => (await jpegOf(400, 300)).subarray(0, -200)],
    ['cut within its header', async () => (await jpegOf(400, 300)).subarray(0, 20)],
    ['whose middle is missing', async () => cutOut(await halves(400, 300).png().toBuffer(), 60, 40)],
    ['that only begins like one', async () => Buffer.from('\x89PNG\r\n\x1a\nand then not', 'latin1')],
  ])('refuses a picture %s', async (_, make) => {
    const refusal = await refusalOf(await make())
    expect(refusal).not.toBeInstanceOf(UnsupportedKind)
    expect(refusal.message).toContain('damaged or cut short')
  })
})

function cutOut(file: Buffer, from: number, length: number): Buffer {
  return Buffer.concat([file.subarray(0, from), file.subarray(from + length)])
}
