import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { crps } from '../../../src/engine/backtest/crps.js'
import { OutOfRange } from '../../../src/engine/errors.js'
import { normalCdf } from '../../../src/engine/statistics/distributions/normal.js'

/** Gneiting, Raftery, J. Am. Stat. Assoc. 102 (2007) 359–378, section 4.2: the score of a normal distribution in closed form. */
function crpsOfNormal(mean: number, sd: number, y: number): number {
  const z = (y - mean) / sd
  const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)
  return sd * (z * (2 * normalCdf(z) - 1) + 2 * density - 1 / Math.sqrt(Math.PI))
}

describe('crps', () => {
  it.each([-3, -1, 0, 0.4, 2.5, 12])('agrees with the closed form of a normal, observed %d away', (z) => {
    const [mean, sd] = [700, 40]
    const y = mean + z * sd
    const score = crps((x) => normalCdf((x - mean) / sd), y, mean - 7 * sd, mean + 7 * sd)
    // Three digits, as its documentation says.
    expect(score / crpsOfNormal(mean, sd, y)).toBeCloseTo(1, 3)
  })

  it('is the absolute error of a forecast that names one number', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 900, noNaN: true }),
        fc.double({ min: 0, max: 900, noNaN: true }),
        (x, y) => {
          const step = (at: number) => (at >= x ? 1 : 0)
          expect(crps(step, y, x, x)).toBeCloseTo(Math.abs(x - y), 9)
        },
      ),
    )
  })

  it('scales with the unit', () => {
    const score = (unit: number) => crps((x) => normalCdf(x / unit - 5), 6.2 * unit, 0, 12 * unit)
    expect(score(1000)).toBeCloseTo(1000 * score(1), 9)
  })

  it('refuses bounds that leave the integral open', () => {
    expect(() => crps(normalCdf, 0, -Infinity, 1)).toThrow(OutOfRange)
    expect(() => crps(normalCdf, 0, 1, -1)).toThrow(OutOfRange)
    expect(() => crps(normalCdf, Number.NaN, -1, 1)).toThrow(OutOfRange)
  })
})
