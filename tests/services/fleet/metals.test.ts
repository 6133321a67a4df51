import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { closeMetals, isMetal, Metal, unknownMetal } from '../../../src/contract/metals.js'
import { GALVANIC_METALS } from '../../../src/engine/reference/galvanic-series.js'

describe('a metal that the series does not have', () => {
  it('with a slip of the keyboard finds the key that was meant', () => {
    const slips = fc
      .constantFrom(...GALVANIC_METALS)
      .chain((key) =>
        fc.integer({ min: 0, max: key.length - 1 }).map((at) => ({ key, typed: key.slice(0, at) + key.slice(at + 1) })),
      )
    fc.assert(
      fc.property(slips, ({ key, typed }) => {
        fc.pre(!isMetal(typed))
        expect(closeMetals(typed)).toContain(key)
      }),
    )
  })

  it('written with spaces and capitals finds it too', () => {
    expect(closeMetals('Manganese Bronze')[0]).toBe('manganese-bronze')
    expect(closeMetals('316 passive')[0]).toBe('stainless-316-passive')
  })

  it('is told so whatever was written, and never accepted', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        fc.pre(!isMetal(text))
        expect(unknownMetal(text)).toContain('is no metal of the galvanic series')
        expect(Metal.safeParse(text).success).toBe(false)
      }),
    )
  })
})
