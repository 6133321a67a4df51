import sharp from 'sharp'
import { describe, expect, it } from 'vitest'
import { drawAnodePhoto, type PhotoSubject, subjectSvg } from '../../seed/drawing/draw-anode-photo.js'
import { ellipse, eroded, isInside, type Outline } from '../../seed/drawing/outline.js'
import { dice } from '../../seed/random.js'
import type { Shape } from '../../seed/scenario/anode-bodies.js'

const SHAPES: readonly Shape[] = ['shaft collar', 'disc', 'teardrop', 'bar', 'hub cone', 'pencil', 'block', 'plate']
const disc: PhotoSubject = { alloy: 'zinc', shape: 'disc', wastedFraction: 0.6, conditions: ['crusted'], variant: 1 }

describe('drawAnodePhoto', () => {
  it('gives a JPEG of 1200 by 900 that is no blank sheet', async () => {
    const photo = await drawAnodePhoto(disc)
    const { format, width, height } = await sharp(photo).metadata()
    expect({ format, width, height }).toEqual({ format: 'jpeg', width: 1200, height: 900 })
    // The anode in the middle must stand out from the bench in a corner, and be rough rather than one flat tone.
    const middle = await sharp(photo).extract({ left: 460, top: 300, width: 100, height: 200 }).greyscale().stats()
    expect(middle.channels[0]!.stdev).toBeGreaterThan(12)
  })

  it('refuses a wasted fraction that is none', async () => {
    await expect(drawAnodePhoto({ ...disc, wastedFraction: 60 })).rejects.toThrow(RangeError)
    await expect(drawAnodePhoto({ ...disc, wastedFraction: Number.NaN })).rejects.toThrow(RangeError)
  })
})

describe('subjectSvg', () => {
  it.each(SHAPES)('draws a %s new, half worn and spent without a number that is none', (shape) => {
    for (const wastedFraction of [0, 0.5, 1]) {
      const svg = subjectSvg({ ...disc, shape, wastedFraction, conditions: ['broken', 'loose', 'painted', 'undercut'] })
      expect(svg).not.toMatch(/NaN|undefined|Infinity/)
    }
  })

  it('uses each name once and only names that are there', () => {
    const svg = subjectSvg({ ...disc, conditions: ['crusted', 'painted', 'loose', 'undercut', 'paint-blistered'] })
    const ids = [...svg.matchAll(/ id="([^"]+)"/g)].map((match) => match[1]!)
    expect(new Set(ids).size).toBe(ids.length)
    for (const [, used] of svg.matchAll(/url\(#([^)]+)\)/g)) expect(ids).toContain(used)
  })

  it('is the same for the same subject and another for another variant', () => {
    expect(subjectSvg(disc)).toBe(subjectSvg({ ...disc }))
    expect(subjectSvg(disc)).not.toBe(subjectSvg({ ...disc, variant: 2 }))
  })
})

describe('eroded', () => {
  it('makes a circle worn evenly a circle with a smaller radius', () => {
    const worn = eroded(ellipse(200, 200), 40, 0, dice('even'))
    for (const [x, y] of worn) expect(Math.abs(Math.hypot(x, y) - 160)).toBeLessThan(3)
  })

  it('keeps a worn piece within the new one, whichever way its outline runs', () => {
    const piece = ellipse(260, 120)
    for (const outline of [piece, piece.toReversed()] satisfies Outline[]) {
      for (const point of eroded(outline, 30, 0.5, dice('within'))) expect(isInside(point, piece)).toBe(true)
    }
  })
})
