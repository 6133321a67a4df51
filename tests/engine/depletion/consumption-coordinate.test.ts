import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { consumptionCoordinate, netMassAfter } from '../../../src/engine/depletion/consumption-coordinate.js'
import { OutOfRange } from '../../../src/engine/errors.js'

const exponents = fc.oneof(fc.constantFrom(0, 2 / 3, 1), fc.double({ min: 0, max: 1.5, noNaN: true }))
const fractions = fc.double({ min: 0.01, max: 1, noNaN: true })

/** Net mass after `days` by Runge–Kutta of fourth order on dm/dt = −k·(m/m₀)^q: the law itself, not its solution. */
function integrate(fittedNetG: number, rate: number, exponent: number, days: number): number {
  const slope = (mass: number) => -rate * (mass / fittedNetG) ** exponent
  const steps = 4000
  const h = days / steps
  let mass = fittedNetG
  for (let step = 0; step < steps; step++) {
    const k1 = slope(mass)
    const k2 = slope(mass + (h / 2) * k1)
    const k3 = slope(mass + (h / 2) * k2)
    const k4 = slope(mass + h * k3)
    mass += (h / 6) * (k1 + 2 * k2 + 2 * k3 + k4)
  }
  return mass
}

describe('consumptionCoordinate', () => {
  // Numerical integration of model.md section 3, dm/dt = −k·(m/m₀)^q; its error with 4,000 steps is far below 1e-9.
  it.each([0, 0.3, 2 / 3, 0.999999, 1, 1.3])('equals rate × time along the integrated law, q = %f', (exponent) => {
    const mass = integrate(1200, 2.1, exponent, 300)
    expect(consumptionCoordinate(1200, 1200, mass, exponent) / (2.1 * 300)).toBeCloseTo(1, 9)
  })

  // R 4.2.2, least squares on invented rows (CC0): m0, k and the day on which the fitted curve reaches a fraction of m0.
  it.each([
    { exponent: 0, m0: 1415.0614429647949, k: 1.8858126284482615, fraction: 0.5, days: 375.1861191345336 },
    { exponent: 2 / 3, m0: 1495.101183994376, k: 2.8796954472794773, fraction: 0.5, days: 321.3241749053492 },
    { exponent: 1, m0: 1526.2529886982559, k: 3.511454290912314, fraction: 0.5, days: 301.2762998724746 },
    { exponent: 0, m0: 721.4169367150693, k: 0.8359501670093166, fraction: 0.6, days: 345.1961445481853 },
    { exponent: 2 / 3, m0: 731.4991696706443, k: 1.0247667441640247, fraction: 0.6, days: 335.2827635602451 },
    { exponent: 1, m0: 735.9286296292531, k: 1.1324986686600425, fraction: 0.6, days: 331.9484708290305 },
  ])('reaches a fraction on the day that a fitted law does, q = $exponent', ({ exponent, m0, k, fraction, days }) => {
    expect(consumptionCoordinate(m0, m0, fraction * m0, exponent) / k / days).toBeCloseTo(1, 9)
  })

  it('adds up over successive intervals, whatever the exponent', () => {
    fc.assert(
      fc.property(exponents, fractions, fractions, (exponent, a, b) => {
        const parts =
          consumptionCoordinate(900, 900, 900 * a, exponent) +
          consumptionCoordinate(900, 900 * a, 900 * a * b, exponent)
        const whole = consumptionCoordinate(900, 900, 900 * a * b, exponent)
        expect(Math.abs(parts - whole)).toBeLessThan(1e-9 * Math.max(1, Math.abs(whole)))
      }),
    )
  })

  it('is inverted by netMassAfter', () => {
    fc.assert(
      fc.property(exponents, fractions, fractions, (exponent, from, to) => {
        const u = consumptionCoordinate(900, 900 * from, 900 * to, exponent)
        expect(netMassAfter(900, 900 * from, u, exponent)).toBeCloseTo(900 * to, 6)
      }),
    )
  })

  it('counts a heavier mass as negative consumption, and one below the core as a loss beyond the whole', () => {
    expect(consumptionCoordinate(1000, 800, 805, 0)).toBe(-5)
    expect(consumptionCoordinate(1000, 1000, -3, 0)).toBe(1003)
  })

  it('refuses what no anode has', () => {
    expect(() => consumptionCoordinate(0, 1, 1, 0)).toThrow(OutOfRange)
    expect(() => consumptionCoordinate(1000, 1000, -1, 0.5)).toThrow(OutOfRange)
    expect(() => consumptionCoordinate(1000, 1000, 0, 1)).toThrow(OutOfRange)
    expect(() => consumptionCoordinate(1000, 1000, 900, Number.NaN)).toThrow(OutOfRange)
  })
})

describe('netMassAfter', () => {
  it('never goes below zero: an anode that is used up stays so', () => {
    expect(netMassAfter(1000, 300, 5000, 0)).toBe(0)
    expect(netMassAfter(1000, 300, 5000, 0.5)).toBe(0)
  })
})
