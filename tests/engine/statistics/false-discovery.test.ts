import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { OutOfRange } from '../../../src/engine/errors.js'
import { type Adjustment, adjustPValues } from '../../../src/engine/statistics/false-discovery.js'
import fixture from './fixtures/fdr-batch.json' with { type: 'json' }

const { p } = fixture.dataset
const { adjusted, rejectedByBH } = fixture.results
const METHODS: readonly [Adjustment, readonly number[]][] = [
  ['benjamini-hochberg', adjusted.BH],
  ['benjamini-yekutieli', adjusted.BY],
  ['holm', adjusted.holm],
  ['hochberg', adjusted.hochberg],
  ['bonferroni', adjusted.bonferroni],
]

describe('adjustPValues', () => {
  // p.adjust of R 4.2.2 on invented p-values with a tie, a one and very small values; see the fixture.
  it.each(METHODS)('agrees with a reference program: %s', (method, expected) => {
    adjustPValues(p, method).forEach((value, index) => {
      expect(Math.abs(value - expected[index]!)).toBeLessThan(1e-14)
    })
  })

  it('rejects what the reference rejects', () => {
    const rejected = (rate: number) =>
      adjustPValues(p, 'benjamini-hochberg').flatMap((value, index) => (value <= rate ? [index] : []))
    expect(rejected(0.05)).toEqual(rejectedByBH['fdr0.05'])
    expect(rejected(0.1)).toEqual(rejectedByBH['fdr0.1'])
  })

  it('keeps the order of the p-values, lowers none and leaves one alone as it is', () => {
    const batch = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 40 })
    fc.assert(
      fc.property(batch, fc.constantFrom(...METHODS.map(([method]) => method)), (values, method) => {
        const result = adjustPValues(values, method)
        result.forEach((value, i) => {
          expect(value).toBeGreaterThanOrEqual(values[i]! * (1 - 1e-12))
          expect(value).toBeLessThanOrEqual(1)
          result.forEach((other, j) => {
            if (values[i]! < values[j]!) expect(value).toBeLessThanOrEqual(other)
          })
        })
      }),
    )
    expect(adjustPValues([0.03], 'benjamini-hochberg')).toEqual([0.03])
    expect(adjustPValues([], 'holm')).toEqual([])
  })

  it('refuses what is no probability', () => {
    expect(() => adjustPValues([0.2, Number.NaN], 'holm')).toThrow(OutOfRange)
    expect(() => adjustPValues([-0.1], 'bonferroni')).toThrow(OutOfRange)
  })
})
