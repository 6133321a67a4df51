import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type FittedAnode, netMassEstimate } from '../../../src/engine/depletion/mass-observation.js'
import { remainingShare, shapeVolume } from '../../../src/engine/depletion/shapes.js'
import { OutOfRange } from '../../../src/engine/errors.js'

const NONE = { lengthMm: null, widthMm: null, heightMm: null }
const ANODE: FittedAnode = {
  netMassG: 1000,
  coreMassG: 80,
  coreSdG: 0,
  newSdG: 0,
  alloy: 'zinc',
  shape: 'block',
  dimensions: { lengthMm: 100, widthMm: 70, heightMm: 20 },
}

describe('netMassEstimate', () => {
  it('takes the core off what a scale shows of a cleaned anode', () => {
    const estimate = netMassEstimate(ANODE, { method: 'scale', grossMassG: 700, resolutionG: 2, cleaned: true })
    expect(estimate?.netMassG).toBe(620)
  })

  // JCGM 100:2008 (GUM) F.2.2.1: a digital reading of step r has a standard uncertainty of r/√12 = 0.29·r.
  it('knows a coarse scale no better than its step allows', () => {
    const coarse = netMassEstimate(ANODE, { method: 'scale', grossMassG: 100, resolutionG: 100, cleaned: true })
    expect(coarse!.sdG).toBeGreaterThanOrEqual(0.288 * 100)
    expect(coarse!.sdG).toBeLessThan(0.29 * 100)
  })

  it('takes an uncleaned anode for lighter than it reads, and for less sure', () => {
    const read = (cleaned: boolean | null) =>
      netMassEstimate(ANODE, { method: 'scale', grossMassG: 700, resolutionG: 1, cleaned })!
    expect(read(false).netMassG).toBeLessThan(read(null).netMassG)
    expect(read(null).netMassG).toBeLessThan(read(true).netMassG)
    expect(read(false).sdG).toBeGreaterThan(read(true).sdG)
  })

  it('does not clip a reading below the core', () => {
    const estimate = netMassEstimate(ANODE, { method: 'scale', grossMassG: 78, resolutionG: 5, cleaned: true })
    expect(estimate?.netMassG).toBe(-2)
  })

  // Common practice: a judgement by eye is good to about ±10 points of the consumed fraction.
  it('judges by eye to ten points of the new mass', () => {
    expect(netMassEstimate(ANODE, { method: 'visual', consumedFraction: 0.25 })).toEqual({ netMassG: 750, sdG: 100 })
  })

  it('works from dimensions left: by ratio where the new ones are known, by volume and density where not', () => {
    const left = { lengthMm: 90, widthMm: 63, heightMm: 18 }
    expect(netMassEstimate(ANODE, { method: 'dimensions', dimensions: left })!.netMassG).toBeCloseTo(729, 9)
    const unmeasured = { ...ANODE, dimensions: NONE }
    // 90 × 63 × 18 mm is 102.06 cm³; zinc at 7.14 g/cm³ (reference densities), less the core.
    const byVolume = netMassEstimate(unmeasured, { method: 'dimensions', dimensions: left })
    expect(byVolume!.netMassG).toBeCloseTo(102.06 * 7.14 - 80, 6)
    expect(netMassEstimate(unmeasured, { method: 'dimensions', dimensions: { ...left, widthMm: null } })).toBeNull()
  })
})

describe('shapes', () => {
  // Geometry: V = π/4·d²·h for a disc, π/12·d²·h for a cone, with d the side of the box.
  it('gives the volume of plain solids', () => {
    const box = { lengthMm: 60, widthMm: 60, heightMm: 30 }
    expect(shapeVolume('Disc', box)).toBeCloseTo(Math.PI * 3 * 3 * 3, 9)
    expect(shapeVolume('hub cone', box)).toBeCloseTo((Math.PI * 3 * 3 * 3) / 3, 9)
    expect(() => shapeVolume('block', { ...box, heightMm: null })).toThrow(OutOfRange)
  })

  it('has a share that any shape shares, and that composes over time', () => {
    const side = fc.double({ min: 1, max: 500, noNaN: true })
    const dimensions = fc.record({ lengthMm: side, widthMm: side, heightMm: side })
    fc.assert(
      fc.property(dimensions, dimensions, dimensions, (a, b, c) => {
        const composed = remainingShare(b, a)! * remainingShare(c, b)!
        expect(remainingShare(c, a)! / composed).toBeCloseTo(1, 9)
      }),
    )
    expect(remainingShare(NONE, ANODE.dimensions)).toBeNull()
  })
})
