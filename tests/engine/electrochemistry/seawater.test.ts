import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  conductivityRatio,
  salinityFromRatio,
  seawaterConductivity,
  seawaterResistivity,
} from '../../../src/engine/electrochemistry/seawater.js'
import { seawaterDensity } from '../../../src/engine/electrochemistry/seawater-density.js'
import { OutOfRange } from '../../../src/engine/errors.js'
import { SEAWATER_POLYNOMIALS } from '../../../src/engine/reference/seawater-scales.js'
import { WATER_DENSITIES } from '../../../src/engine/reference/water-densities.js'

const salinity = fc.double({ min: 0.0005, max: 42, noNaN: true })
const temperature = fc.double({ min: -2, max: 40, noNaN: true })
const pressure = fc.double({ min: 0, max: 10_000, noNaN: true })

// Fofonoff and Millard, Algorithms for computation of fundamental properties of seawater, UNESCO Technical Papers in Marine
// Science 44 (1983): the check values, temperatures by IPTS-68. Tolerances are half of the last printed digit.
describe('Practical Salinity Scale 1978', () => {
  it.each([
    [1, 15, 0, 35],
    [1.2, 20, 2000, 37.245628],
  ])('p. 9: ratio %d at %d °C, %d dbar is %d psu', (ratio, t, p, printed) => {
    expect(Math.abs(salinityFromRatio(ratio, t, p) - printed)).toBeLessThan(5e-7)
  })

  // p. 9: Rt 1.0568875 on the way to 37.245628 psu at 20 °C. At atmospheric pressure R = Rt·rt, and that at 35 psu is rt.
  it('p. 9: passes through the printed Rt', () => {
    const ratio = 1.0568875 * conductivityRatio(35, 20)
    expect(Math.abs(salinityFromRatio(ratio, 20) - 37.245628)).toBeLessThan(3e-6)
  })

  it.each([
    [25, 10, 0, 0.65499],
    [25, 0, 1000, 0.506244],
    [40, 10, 0, 1.000073],
  ])('p. 14: %d psu at %d °C, %d dbar has the ratio %d', (psu, t, p, printed) => {
    expect(Math.abs(conductivityRatio(psu, t, p) - printed)).toBeLessThan(5e-7)
  })

  // Culkin and Smith (1980): 42.914 mS/cm for standard seawater of 15 °C.
  it('has the conductivity of standard seawater', () => {
    expect(seawaterConductivity(35, 15)).toBeCloseTo(4.2914, 6)
  })

  // Worked out apart from this code by inverting the scale (it is not printed): by salinity, conductivity [mS/cm] and
  // resistivity [Ω·m] at 0, 5 … 30 °C and atmospheric pressure. Half of the last digit.
  it.each([
    [2, [2.026, 2.35, 2.691, 3.047, 3.416, 3.796, 4.187], [4.936, 4.2547, 3.7159, 3.2822, 2.9278, 2.6342, 2.3883]],
    [5, [4.803, 5.565, 6.366, 7.2, 8.066, 8.959, 9.876], [2.082, 1.7969, 1.571, 1.3888, 1.2398, 1.1162, 1.0126]],
    [
      10,
      [9.171, 10.612, 12.125, 13.702, 15.336, 17.022, 18.753],
      [1.0903, 0.9423, 0.8247, 0.7298, 0.652, 0.5875, 0.5333],
    ],
    [
      15,
      [13.356, 15.438, 17.622, 19.899, 22.259, 24.692, 27.189],
      [0.7487, 0.6478, 0.5675, 0.5025, 0.4493, 0.405, 0.3678],
    ],
    [
      20,
      [17.414, 20.11, 22.938, 25.885, 28.939, 32.087, 35.318],
      [0.5743, 0.4973, 0.436, 0.3863, 0.3456, 0.3117, 0.2831],
    ],
    [
      25,
      [21.372, 24.66, 28.108, 31.702, 35.425, 39.262, 43.199],
      [0.4679, 0.4055, 0.3558, 0.3154, 0.2823, 0.2547, 0.2315],
    ],
    [
      30,
      [25.243, 29.104, 33.154, 37.373, 41.744, 46.248, 50.869],
      [0.3962, 0.3436, 0.3016, 0.2676, 0.2396, 0.2162, 0.1966],
    ],
    [
      35,
      [29.036, 33.454, 38.087, 42.914, 47.913, 53.065, 58.349],
      [0.3444, 0.2989, 0.2626, 0.233, 0.2087, 0.1884, 0.1714],
    ],
    [
      38,
      [31.277, 36.022, 40.997, 46.18, 51.548, 57.08, 62.754],
      [0.3197, 0.2776, 0.2439, 0.2165, 0.194, 0.1752, 0.1594],
    ],
  ])('gives conductivity and resistivity at %d psu', (psu, conductivities, resistivities) => {
    conductivities.forEach((printed, index) => {
      expect(Math.abs(10 * seawaterConductivity(psu, 5 * index) - printed)).toBeLessThan(5.01e-4)
      expect(Math.abs(seawaterResistivity(psu, 5 * index) - resistivities[index]!)).toBeLessThan(5.01e-5)
    })
  })

  it('inverts, at every temperature and pressure', () => {
    fc.assert(
      fc.property(salinity, temperature, pressure, (psu, t, p) => {
        expect(Math.abs(salinityFromRatio(conductivityRatio(psu, t, p), t, p) - psu)).toBeLessThan(1e-10)
      }),
    )
  })

  it('inverts at its limits', () => {
    for (const psu of [0, 2, 42]) {
      for (const t of [-2, 40])
        expect(salinityFromRatio(conductivityRatio(psu, t, 10_000), t, 10_000)).toBeCloseTo(psu, 9)
    }
  })

  it('has no step where the extension for low salinities begins', () => {
    for (const t of [-2, 15, 40]) {
      const step = conductivityRatio(2, t) - conductivityRatio(2 - 1e-9, t)
      expect(Math.abs(step)).toBeLessThan(1e-9)
    }
  })

  // An ion contributes no more in company than alone (Kohlrausch): conductivity per salt falls as the salt grows.
  it('conducts better per salt the thinner the water, and better the warmer', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 20, noNaN: true }),
        fc.double({ min: -2, max: 39, noNaN: true }),
        (psu, t) => {
          expect(seawaterConductivity(2 * psu, t)).toBeLessThan(2 * seawaterConductivity(psu, t))
          expect(seawaterConductivity(2 * psu, t)).toBeGreaterThan(seawaterConductivity(psu, t))
          expect(seawaterConductivity(psu, t + 1)).toBeGreaterThan(seawaterConductivity(psu, t))
        },
      ),
    )
  })

  it('refuses what it is not printed for, by name', () => {
    expect(() => conductivityRatio(42.1, 15)).toThrow(expect.objectContaining({ quantity: 'salinity' }))
    expect(() => conductivityRatio(-0.1, 15)).toThrow(expect.objectContaining({ quantity: 'salinity' }))
    expect(() => conductivityRatio(35, 40.1)).toThrow(expect.objectContaining({ quantity: 'temperature' }))
    expect(() => conductivityRatio(35, Number.NaN)).toThrow(expect.objectContaining({ quantity: 'temperature' }))
    expect(() => conductivityRatio(35, 15, -1)).toThrow(expect.objectContaining({ quantity: 'pressure' }))
    expect(() => salinityFromRatio(1.5, 15)).toThrow(expect.objectContaining({ quantity: 'conductivity ratio' }))
    expect(() => salinityFromRatio(-1, 15)).toThrow(expect.objectContaining({ quantity: 'conductivity ratio' }))
  })

  it('never gives a salinity below none: the extension resolves no ratio below some 0.00003 but 0 itself', () => {
    expect(salinityFromRatio(0, 15)).toBe(0)
    expect(() => salinityFromRatio(1e-5, 15)).toThrow(OutOfRange)
  })

  it('has no resistivity without salt', () => {
    expect(seawaterConductivity(0, 15)).toBe(0)
    expect(() => seawaterResistivity(0, 15)).toThrow(expect.objectContaining({ quantity: 'salinity' }))
  })
})

describe('equation of state of 1980', () => {
  it.each([
    [0, 5, 0, 999.96675],
    [35, 5, 0, 1027.67547],
    [35, 25, 0, 1023.34306],
    [0, 5, 10_000, 1044.12802],
    [35, 5, 10_000, 1069.48914],
  ])('p. 19: %d psu at %d °C, %d dbar weighs %d kg/m³', (psu, t, p, printed) => {
    expect(Math.abs(seawaterDensity(psu, t, p) - printed)).toBeLessThan(5e-6)
  })

  it('agrees with the table of waters that anodes are weighed in', () => {
    for (const { salinityPsu, temperatureC, densityKgPerM3 } of WATER_DENSITIES) {
      expect(Math.abs(seawaterDensity(salinityPsu, temperatureC) - densityKgPerM3)).toBeLessThan(5.1e-4)
    }
  })

  // Schoolbook: fresh water is densest near 4 °C; salt and pressure make water denser.
  it('is densest near 4 °C without salt and grows with salt and pressure', () => {
    expect(seawaterDensity(0, 4)).toBeGreaterThan(Math.max(seawaterDensity(0, 2), seawaterDensity(0, 6)))
    fc.assert(
      fc.property(fc.double({ min: 0, max: 41, noNaN: true }), temperature, pressure, (psu, t, p) => {
        expect(seawaterDensity(psu + 1, t, p)).toBeGreaterThan(seawaterDensity(psu, t, p))
        expect(seawaterDensity(psu, t, p)).toBeGreaterThanOrEqual(seawaterDensity(psu, t))
      }),
    )
  })

  it('refuses what lies outside', () => {
    expect(() => seawaterDensity(43, 15)).toThrow(OutOfRange)
    expect(() => seawaterDensity(35, 15, 10_001)).toThrow(OutOfRange)
  })
})

it('keeps each polynomial once', () => {
  expect(new Set(SEAWATER_POLYNOMIALS.map(({ key }) => key)).size).toBe(SEAWATER_POLYNOMIALS.length)
})
