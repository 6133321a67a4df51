import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { massRate, meanCurrent, theoreticalCapacity } from '../../../src/engine/electrochemistry/faraday.js'
import { OutOfRange } from '../../../src/engine/errors.js'

const KILOGRAMS_PER_POUND = 0.45359237
const HOURS_PER_YEAR = 8760

describe('theoreticalCapacity', () => {
  // Tri-Services Electrical TP-17 (2017), 1.1.3: zinc, 372 A·h/lb. Printed to 1 A·h/lb, hence ±0.5.
  it('agrees with the printed capacity of zinc', () => {
    expect(Math.abs(theoreticalCapacity(2, 65.38) * KILOGRAMS_PER_POUND - 372)).toBeLessThan(0.5)
  })

  // TP-17 (2017), 1.1.3: zinc, 23.5 lb per A·year. The year may be of 8760 or 8766 h, hence ±0.1.
  it('agrees with the printed consumption of zinc', () => {
    const poundsPerAmpereYear = HOURS_PER_YEAR / (theoreticalCapacity(2, 65.38) * KILOGRAMS_PER_POUND)
    expect(Math.abs(poundsPerAmpereYear - 23.5)).toBeLessThan(0.1)
  })

  // MIL-HDBK-1004/10 p. 198: magnesium, 8.8 lb per A·year in theory. Printed to 0.1, hence ±0.05.
  it('agrees with the printed consumption of magnesium', () => {
    const poundsPerAmpereYear = HOURS_PER_YEAR / (theoreticalCapacity(2, 24.305) * KILOGRAMS_PER_POUND)
    expect(Math.abs(poundsPerAmpereYear - 8.8)).toBeLessThan(0.05)
  })

  // Corrosion, vol. 1 no. 2, abstract: magnesium, 1000 A·h/lb. A round figure, hence ±0.5 %.
  it('agrees with the printed capacity of magnesium', () => {
    expect(Math.abs(theoreticalCapacity(2, 24.305) * KILOGRAMS_PER_POUND - 1000)).toBeLessThan(5)
  })

  // Corrosion Engineering: Principles and Practice, ch. 13, p. 554: aluminium, 2960 A·h/kg in theory; it takes an alloy of
  // a little zinc, hence 1 %.
  it('agrees with the textbook capacity of aluminium', () => {
    expect(Math.abs(theoreticalCapacity(3, 26.9815) / 2960 - 1)).toBeLessThan(0.01)
  })

  it('counts the charge of one gram-equivalent as one faraday', () => {
    // 96485.33212 C/mol (CODATA 2018) / 3600 s/h: 26.801 A·h a mole.
    expect(theoreticalCapacity(1, 1000)).toBeCloseTo(26.801481, 6)
  })

  it.each([
    [0, 65.38, 'valence'],
    [Number.NaN, 65.38, 'valence'],
    [2, 0, 'molar mass'],
    [2, Number.POSITIVE_INFINITY, 'molar mass'],
  ])('refuses valence %d with molar mass %d', (valence, molarMass, quantity) => {
    expect(() => theoreticalCapacity(valence, molarMass)).toThrow(expect.objectContaining({ quantity }))
  })
})

describe('meanCurrent', () => {
  // Plain arithmetic: 310 g of 2000 A·h/kg are 620 A·h; over 200 d = 4800 h that is 0.1291667 A.
  it('turns a loss into a current', () => {
    expect(meanCurrent(2000, 310, 200)).toBeCloseTo(620 / 4800, 12)
  })

  // MIL-HDBK-1004/10 p. 209: aluminium consumes 7.6 lb per A·year, that is 8760 h / (7.6 × 0.45359 kg) = 2541 A·h/kg.
  it('gives one ampere for the printed yearly consumption', () => {
    expect(meanCurrent(2541, 7.6 * KILOGRAMS_PER_POUND * 1000, 365)).toBeCloseTo(1, 3)
  })

  it('lets a gain of mass through as a negative current', () => {
    expect(meanCurrent(780, -2, 10)).toBeLessThan(0)
  })

  it.each([
    [0, 1, 1, 'capacity'],
    [780, Number.NaN, 1, 'mass loss'],
    [780, 1, 0, 'time in the water'],
  ])('refuses capacity %d, loss %d, days %d', (capacity, loss, days, quantity) => {
    expect(() => meanCurrent(capacity, loss, days)).toThrow(expect.objectContaining({ quantity }))
  })
})

describe('massRate', () => {
  // Plain arithmetic: 0.05 A over 180 d are 216 A·h; at 780 A·h/kg that is 276.92 g, at the theoretical capacity 263.46 g.
  it('predicts the loss of a zinc anode', () => {
    expect(massRate(780, 0.05) * 180).toBeCloseTo(276.92, 2)
    expect(massRate(theoreticalCapacity(2, 65.38), 0.05) * 180).toBeCloseTo(263.46, 2)
  })

  it('is the inverse of the mean current', () => {
    const positive = (max: number) => fc.double({ min: 1e-3, max, noNaN: true })
    fc.assert(
      fc.property(positive(3000), positive(100), positive(5000), (capacity, current, days) => {
        const back = meanCurrent(capacity, massRate(capacity, current) * days, days)
        expect(Math.abs(back / current - 1)).toBeLessThan(1e-12)
      }),
    )
  })

  it('refuses a negative current', () => {
    expect(() => massRate(780, -0.1)).toThrow(OutOfRange)
  })
})
