import { describe, expect, it } from 'vitest'
import { OutOfRange } from '../../../src/engine/errors.js'
import { studentWeights } from '../../../src/engine/statistics/student-weights.js'

describe('studentWeights', () => {
  // Lange, Little, Taylor (1989): the weight makes the normal score w·r equal that of the t density, −d log f/dr.
  it.each([0, 0.5, -2, 8])('turns the normal score into that of the t density at %d', (residual) => {
    const degrees = 5
    const logDensity = (r: number): number => -((degrees + 1) / 2) * Math.log(1 + (r * r) / degrees)
    const step = 1e-5
    const score = -(logDensity(residual + step) - logDensity(residual - step)) / (2 * step)
    expect(studentWeights([residual], degrees)[0]! * residual).toBeCloseTo(score, 8)
  })
  it('tends to equal weights as the tails become normal', () => {
    for (const weight of studentWeights([0, 1, 3], 1e9)) expect(weight).toBeCloseTo(1, 7)
  })
  it('refuses residuals and degrees of freedom that are not numbers in range', () => {
    expect(() => studentWeights([Number.NaN], 4)).toThrow(OutOfRange)
    expect(() => studentWeights([0], 0)).toThrow(OutOfRange)
  })
})
