import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { OutOfRange } from '../../../src/engine/errors.js'
import { hypergeometricTail } from '../../../src/engine/statistics/distributions/hypergeometric.js'

describe('hypergeometricTail', () => {
  // Fisher, The Design of Experiments (1935), chapter II: of eight cups four have the milk first; all four named rightly by chance
  // once in 70 times, three or more 17 times in 70.
  it("agrees with the lady's cups of tea", () => {
    const cups = { population: 8, marked: 4, drawn: 4 }
    expect(hypergeometricTail(cups, 4)).toBeCloseTo(1 / 70, 12)
    expect(hypergeometricTail(cups, 3)).toBeCloseTo(17 / 70, 12)
  })

  it('is one for none or more, falls with the number asked, and does not mind which of the two is called marked', () => {
    const counts = fc.integer({ min: 1, max: 60 }).chain((population) =>
      fc.record({
        population: fc.constant(population),
        marked: fc.integer({ min: 0, max: population }),
        drawn: fc.integer({ min: 0, max: population }),
      }),
    )
    fc.assert(
      fc.property(counts, fc.integer({ min: 0, max: 20 }), (draw, least) => {
        const tail = hypergeometricTail(draw, least)
        expect(hypergeometricTail(draw, 0)).toBeCloseTo(1, 9)
        expect(hypergeometricTail(draw, least + 1)).toBeLessThanOrEqual(tail + 1e-12)
        expect(hypergeometricTail({ ...draw, marked: draw.drawn, drawn: draw.marked }, least)).toBeCloseTo(tail, 9)
      }),
    )
  })

  it('refuses more marked or drawn than there are', () => {
    expect(() => hypergeometricTail({ population: 3, marked: 4, drawn: 1 }, 1)).toThrow(OutOfRange)
    expect(() => hypergeometricTail({ population: 3, marked: 1, drawn: 0.5 }, 1)).toThrow(OutOfRange)
  })
})
