import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  braceletResistance,
  flushPlateResistance,
  isLongPlate,
  shortSlenderResistance,
  slenderResistance,
  standOffFactor,
} from '../../../src/engine/sizing/anode-resistance.js'

const M_PER_FT = 0.3048
const M_PER_IN = 0.0254

const resistivity = fc.double({ min: 0.1, max: 100, noNaN: true })
const metres = fc.double({ min: 0.01, max: 3, noNaN: true })

describe('slenderResistance', () => {
  // A public repository's test of DNV-RP-B401 Table 10-7: ρ 0.3 Ω·m, L 1.0 m, r 0.05 m: 0.16148 Ω.
  it('agrees with a public test value', () => {
    expect(Math.abs(slenderResistance(0.3, 1, 0.05) - 0.16148)).toBeLessThan(5e-6)
  })

  // MIL-HDBK-1004/10 p. 211: a rod of 5 ft by 2 in in water of 22 Ω·cm, K = 0.0234, 0.103 Ω; ten in parallel 0.010 Ω.
  it('agrees with the military handbook', () => {
    const ohm = slenderResistance(0.22, 5 * M_PER_FT, 1 * M_PER_IN)
    expect(Math.abs(ohm - 0.103)).toBeLessThan(5e-4)
    expect(Math.abs(ohm / 10 - 0.01)).toBeLessThan(5e-4)
    expect(Math.abs(ohm / (22 / 5) - 0.0234)).toBeLessThan(5e-5)
  })

  // MIL-HDBK-1004/10 p. 209: a pier's anodes of 2 and 4 ft in 22 Ω·cm, K = 0.012 and 0.017: 0.132 and 0.093 Ω. Its K is
  // 0.0052217·(ln(8L/d) − 1), which tells the diameters. (Its third, of 1 ft, is short for the slender form.)
  it.each([
    [2, 0.012, 0.132],
    [4, 0.017, 0.093],
  ])('agrees with the military handbook on an anode of %d ft', (feet, k, printed) => {
    const diameterFt = (8 * feet) / Math.exp(k / 0.0052217 + 1)
    const ohm = slenderResistance(0.22, feet * M_PER_FT, (diameterFt / 2) * M_PER_FT)
    expect(Math.abs(ohm - printed)).toBeLessThan(6e-4)
  })

  it('holds for four radii and more', () => {
    expect(slenderResistance(1, 0.2, 0.05)).toBeGreaterThan(0)
    expect(() => slenderResistance(1, 0.19, 0.05)).toThrow(expect.objectContaining({ quantity: 'length' }))
  })
})

describe('shortSlenderResistance', () => {
  // The practice's own step at L = 4r, worked out apart from this code: ρ 0.25 Ω·m, r 0.05 m: 0.353 long, 0.377 short.
  it('meets the long form with the known step', () => {
    expect(Math.abs(slenderResistance(0.25, 0.2, 0.05) - 0.353)).toBeLessThan(5e-4)
    expect(Math.abs(shortSlenderResistance(0.25, 0.2 - 1e-9, 0.05) - 0.377)).toBeLessThan(5.1e-4)
    expect(() => shortSlenderResistance(0.25, 0.2, 0.05)).toThrow(expect.objectContaining({ quantity: 'length' }))
  })
})

describe('flushPlateResistance and braceletResistance', () => {
  // Closed forms of Lloyd and McCoy with round figures: 0.25/(2·0.5) and 0.315·0.25/√0.09 = 0.2625.
  it('are what their formulas print', () => {
    expect(flushPlateResistance(0.25, 0.5)).toBeCloseTo(0.25, 15)
    expect(braceletResistance(0.25, 0.09)).toBeCloseTo(0.2625, 15)
  })

  // A disc on an insulating plane has ρ/(4a), a its radius (Maxwell): 0.443·ρ/√A in half space. McCoy's is of a body that current
  // leaves on more sides and so lies below; a sphere far from all has ρ/(4πa) = 0.282·ρ/√A, below both.
  it('lies between a sphere in the open and a disc on an insulating wall', () => {
    fc.assert(
      fc.property(resistivity, metres, (rho, radiusM) => {
        const disc = rho / (4 * radiusM)
        const sphere = rho / (4 * Math.PI * radiusM)
        expect(braceletResistance(rho, Math.PI * radiusM ** 2)).toBeLessThan(disc)
        expect(braceletResistance(rho, 4 * Math.PI * radiusM ** 2)).toBeGreaterThan(sphere)
      }),
    )
  })
})

describe('all formulas', () => {
  it('grow with the resistivity and shrink in proportion to the size', () => {
    fc.assert(
      fc.property(resistivity, metres, fc.double({ min: 1.5, max: 10, noNaN: true }), (rho, size, factor) => {
        const formulas = [
          (r: number, s: number) => slenderResistance(r, 10 * s, s),
          (r: number, s: number) => shortSlenderResistance(r, 2 * s, s),
          (r: number, s: number) => flushPlateResistance(r, s),
          (r: number, s: number) => braceletResistance(r, s ** 2),
        ]
        for (const formula of formulas) {
          expect(formula(factor * rho, size) / formula(rho, size)).toBeCloseTo(factor, 9)
          expect(formula(rho, factor * size) * factor).toBeCloseTo(formula(rho, size), 9)
        }
      }),
    )
  })

  it('refuse what is not above 0, by name', () => {
    expect(() => slenderResistance(0, 1, 0.05)).toThrow(expect.objectContaining({ quantity: 'resistivity' }))
    expect(() => slenderResistance(1, 1, 0)).toThrow(expect.objectContaining({ quantity: 'radius' }))
    expect(() => shortSlenderResistance(1, 0, 1)).toThrow(expect.objectContaining({ quantity: 'length' }))
    expect(() => flushPlateResistance(1, Number.NaN)).toThrow(expect.objectContaining({ quantity: 'mean side' }))
    expect(() => braceletResistance(1, -1)).toThrow(expect.objectContaining({ quantity: 'exposed area' }))
  })
})

describe('standOffFactor', () => {
  // "Anode resistance equations" (student project) on DNV-RP-B401: 1.3 between 0.15 and 0.30 m; closer is flush.
  it.each([
    [1, 1],
    [0.3, 1],
    [0.29, 1.3],
    [0.15, 1.3],
  ])('at %d m is %d', (distance, factor) => expect(standOffFactor(distance)).toBe(factor))

  it('refuses what is a flush anode', () => {
    expect(() => standOffFactor(0.14)).toThrow(expect.objectContaining({ quantity: 'distance' }))
  })
})

// The same source: length at least four times width and thickness.
it.each([
  [0.4, 0.1, 0.1, true],
  [0.39, 0.1, 0.02, false],
  [0.4, 0.05, 0.11, false],
])('a plate of %d × %d × %d m is long: %s', (length, width, thickness, isLong) => {
  expect(isLongPlate(length, width, thickness)).toBe(isLong)
})
