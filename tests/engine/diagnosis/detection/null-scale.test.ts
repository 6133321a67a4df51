import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { nullScale } from '../../../../src/engine/diagnosis/detection/null-scale.js'
import { normalQuantile } from '../../../../src/engine/statistics/distributions/normal.js'

const score = fc.double({ min: -8, max: 8, noNaN: true })
const scores = fc.array(score, { maxLength: 60 })

/** What a standard normal gives, evenly over its probabilities. */
const ordinary = (count: number) => Array.from({ length: count }, (_, i) => normalQuantile((i + 0.5) / count))

describe('nullScale', () => {
  it('is 1 where there is nothing to learn from', () => {
    expect(nullScale([])).toBe(1)
  })

  it('leaves scores that spread as they should at 1', () => {
    expect(nullScale(ordinary(999))).toBeCloseTo(1, 2)
  })

  it.each([1.3, 2, 5])('comes to the factor by which many scores spread too widely: %d', (factor) => {
    const wide = ordinary(4001).map((value) => factor * value)
    expect(Math.abs(nullScale(wide) / factor - 1)).toBeLessThan(0.01)
  })

  it('believes few scores less than many', () => {
    const wide = (count: number) => nullScale(ordinary(count).map((value) => 3 * value))
    expect(wide(5)).toBeGreaterThan(1)
    expect(wide(5)).toBeLessThan(wide(50))
    expect(wide(50)).toBeLessThan(wide(5000))
  })

  it('is not raised by how far out faults are, nor by which way', () => {
    const quiet = ordinary(40)
    const faults = (size: number) => nullScale([...quiet, ...Array.from({ length: 8 }, () => size)])
    expect(faults(8)).toBe(faults(3))
    expect(faults(-8)).toBe(faults(8))
  })

  it('is never below 1, whatever the order and the signs', () => {
    fc.assert(
      fc.property(scores, (some) => {
        const scale = nullScale(some)
        expect(scale).toBeGreaterThanOrEqual(1)
        expect(nullScale([...some].reverse())).toBe(scale)
        expect(nullScale(some.map((value) => -value))).toBe(scale)
      }),
    )
  })

  it('never falls as every score gets larger', () => {
    const factor = fc.double({ min: 1, max: 4, noNaN: true })
    fc.assert(
      fc.property(scores, factor, (some, by) => {
        expect(nullScale(some.map((value) => by * value))).toBeGreaterThanOrEqual(nullScale(some) - 1e-12)
      }),
    )
  })
})
