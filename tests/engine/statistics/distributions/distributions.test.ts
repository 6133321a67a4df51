import { describe, expect, it } from 'vitest'
import { OutOfRange } from '../../../../src/engine/errors.js'
import { type GaussHermiteRule, gaussHermite } from '../../../../src/engine/statistics/distributions/gauss-hermite.js'
import { normalCdf, normalDensity, normalQuantile } from '../../../../src/engine/statistics/distributions/normal.js'
import { studentQuantile } from '../../../../src/engine/statistics/distributions/student-t.js'

const relative = (value: number, truth: number): number => Math.abs(value / truth - 1)

describe('normalCdf', () => {
  // Abramowitz and Stegun, Handbook of Mathematical Functions (1964), table 26.1 (15 decimals) …
  it.each([
    [0, 0.5],
    [1, 0.841344746068543],
    [2, 0.977249868051821],
  ])('agrees with the printed table at %d', (z, truth) => {
    expect(Math.abs(normalCdf(z) - truth)).toBeLessThan(5.1e-16)
  })
  // … and table 26.2: −log₁₀ Q(x), printed to 5 decimals.
  it.each([
    [5, 6.54265],
    [10, 23.11805],
    [20, 88.5601],
  ])('keeps its digits in the tail at %d', (z, truth) => {
    expect(Math.abs(-Math.log10(normalCdf(-z)) - truth)).toBeLessThan(6e-6)
  })
  it('is 0 and 1 at the infinities', () => {
    expect([normalCdf(Number.NEGATIVE_INFINITY), normalCdf(Number.POSITIVE_INFINITY)]).toEqual([0, 1])
  })
  it('refuses what is not a number', () => {
    expect(() => normalCdf(Number.NaN)).toThrow(OutOfRange)
    expect(() => normalDensity(Number.NaN)).toThrow(OutOfRange)
  })
})

describe('normalQuantile', () => {
  it.each([1e-300, 1e-100, 1e-20, 1e-5, 0.05, 0.3, 0.5, 0.9])('is undone by the distribution function at %d', (p) => {
    expect(relative(normalCdf(normalQuantile(p)), p)).toBeLessThan(1e-9)
  })
  it.each([0, 1, -0.1, Number.NaN])('refuses probability %d', (p) => {
    expect(() => normalQuantile(p)).toThrow(OutOfRange)
  })
})

describe('studentQuantile', () => {
  // Closed forms: one degree of freedom is Cauchy, tan(π(p − ½)); two give (2p − 1)·√2/√(1 − (2p − 1)²).
  it.each([0.001, 0.1, 0.5, 0.9, 0.975])('has the closed forms of 1 and 2 degrees of freedom at %d', (p) => {
    expect(studentQuantile(p, 1)).toBeCloseTo(Math.tan(Math.PI * (p - 0.5)), 8)
    const u = 2 * p - 1
    expect(studentQuantile(p, 2)).toBeCloseTo((u * Math.SQRT2) / Math.sqrt(1 - u * u), 10)
  })
  // Abramowitz and Stegun, table 26.10, printed to 3 decimals.
  it.each([
    [0.975, 5, 2.571],
    [0.95, 10, 1.812],
    [0.995, 30, 2.75],
  ])('agrees with the printed table at %d and %d degrees of freedom', (p, degrees, truth) => {
    expect(Math.abs(studentQuantile(p, degrees) - truth)).toBeLessThan(5.1e-4)
  })
  it('refuses probabilities and degrees of freedom outside their ranges', () => {
    expect(() => studentQuantile(1, 3)).toThrow(OutOfRange)
    expect(() => studentQuantile(0.5, 0)).toThrow(OutOfRange)
  })
})

describe('gaussHermite', () => {
  const moment = ({ nodes, weights }: GaussHermiteRule, power: number): number =>
    nodes.reduce((sum, x, k) => sum + weights[k]! * x ** power, 0)
  // Moments of the standard normal: (k − 1)!! for even k, 0 for odd k.
  it.each([1, 2, 3, 7, 20, 64])('has the normal moments up to degree 2N − 1 with %d points', (points) => {
    const rule = gaussHermite(points)
    let truth = 1
    for (let power = 0; power <= Math.min(2 * points - 1, 60); power += 2) {
      if (power > 0) truth *= power - 1
      expect(relative(moment(rule, power), truth)).toBeLessThan(1e-11)
      expect(moment(rule, power + 1) / truth).toBeCloseTo(0, 9)
    }
  })
  // Abramowitz and Stegun, table 25.10, n = 5: x and w for the weight exp(−x²); here √2·x and w/√π.
  it('agrees with the printed rule of five points', () => {
    const { nodes, weights } = gaussHermite(5)
    expect(nodes[4]! / Math.SQRT2).toBeCloseTo(2.020182870456086, 13)
    expect(nodes[3]! / Math.SQRT2).toBeCloseTo(0.958572464613819, 13)
    expect(weights[4]! * Math.sqrt(Math.PI)).toBeCloseTo(0.01995324205905, 13)
  })
  it('gives the mean of a lognormal variable', () => {
    const { nodes, weights } = gaussHermite(30)
    const mean = nodes.reduce((sum, x, k) => sum + weights[k]! * Math.exp(0.7 * x), 0)
    expect(relative(mean, Math.exp(0.245))).toBeLessThan(1e-13)
  })
  it.each([0, 2.5, 201])('refuses %d points', (points) => {
    expect(() => gaussHermite(points)).toThrow(OutOfRange)
  })
})
