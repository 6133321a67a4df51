import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { median, medianWithout } from '../../../src/engine/diagnosis/evidence/figures.js'

/** Few different values, so that many are equal. */
const values = fc.array(fc.integer({ min: 0, max: 8 }), { minLength: 1, maxLength: 12 })

describe('medianWithout', () => {
  it('is the median of what is left', () => {
    fc.assert(
      fc.property(values, values, (left, leftOut) => {
        const ascending = [...left, ...leftOut].sort((a, b) => a - b)
        expect(medianWithout(ascending, leftOut)).toBe(median(left))
      }),
    )
  })
})
