import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { monthTicks, roundTicks, scaleOf } from '../../src/presentation/axis.js'

const finite = fc.double({ min: -1e6, max: 1e6, noNaN: true })

describe('a scale', () => {
  it('leads the ends of the values to the ends of the drawing, and keeps what lies between in proportion', () => {
    fc.assert(
      fc.property(
        finite,
        fc.double({ min: 1, max: 1e6, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (low, span, share) => {
          const scale = scaleOf([low, low + span], [200, 20])
          expect(scale(low)).toBeCloseTo(200, 6)
          expect(scale(low + span)).toBeCloseTo(20, 6)
          expect(scale(low + share * span)).toBeCloseTo(200 - share * 180, 4)
        },
      ),
    )
  })

  it('puts everything at its start where the values have no span', () => {
    expect(scaleOf([5, 5], [10, 90])(5)).toBe(10)
  })
})

describe('ticks', () => {
  it('of an amount are evenly apart from 0, none above the height, and not many more than wanted', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 1e5, noNaN: true }), fc.integer({ min: 2, max: 9 }), (high, wanted) => {
        const ticks = roundTicks(high, wanted)
        expect(ticks[0]).toBe(0)
        expect(ticks.length).toBeGreaterThan(1)
        expect(ticks.length).toBeLessThanOrEqual(wanted + 1)
        expect(ticks.at(-1)!).toBeLessThanOrEqual(high * (1 + 1e-9))
      }),
    )
    expect(roundTicks(1080, 6)).toEqual([0, 200, 400, 600, 800, 1000])
  })

  it('of time are first days of months within the span, of Januaries where it is long', () => {
    const days = (from: string, to: string, wanted: number) =>
      monthTicks(new Date(from), new Date(to), wanted).map((at) => at.toISOString().slice(0, 10))
    expect(days('2031-01-15', '2031-05-20', 5)).toEqual(['2031-02-01', '2031-03-01', '2031-04-01', '2031-05-01'])
    expect(days('2028-03-01', '2031-05-20', 4)).toEqual(['2029-01-01', '2030-01-01', '2031-01-01'])
    expect(days('2031-02-03', '2031-02-20', 5)).toEqual([])
  })
})
