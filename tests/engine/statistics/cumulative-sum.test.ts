import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { OutOfRange } from '../../../src/engine/errors.js'
import { cumulativeSums } from '../../../src/engine/statistics/cumulative-sum.js'
import {
  averageRunLength,
  limitForRunLength,
  twoSidedAverageRunLength,
} from '../../../src/engine/statistics/cumulative-sum-run-length.js'
import fixture from './fixtures/cusum-run-lengths.json' with { type: 'json' }

const { z } = fixture.dataset
const { results, model } = fixture
const DESIGN = { allowance: model.k, limit: model.h }

/** The largest difference between two lists of one length. */
function distance(a: readonly number[], b: readonly number[]): number {
  expect(a).toHaveLength(b.length)
  return Math.max(...a.map((value, at) => Math.abs(value - b[at]!)))
}

describe('cumulativeSums', () => {
  const { up, down } = cumulativeSums(z, DESIGN)

  // The fixture's path, by R 4.2.2 on invented surprises with a shift.
  it('follows the reference path both ways', () => {
    expect(distance(up.path, results.path.up)).toBeLessThan(1e-12)
    expect(distance(down.path, results.path.down)).toBeLessThan(1e-12)
  })

  it('signals where the reference does, and dates the change alike', () => {
    expect(up.signalAt).toBe(results.firstSignalUp)
    expect(up.changeAfter).toBe(results.changeAfterUp)
    expect(down.signalAt).toBe(results.firstSignalDown)
    expect(down.changeAfter).toBe(results.changeAfterDown)
  })

  it('has its sides change places when the values change sign', () => {
    const values = fc.array(fc.double({ min: -6, max: 6, noNaN: true }), { maxLength: 40 })
    fc.assert(
      fc.property(values, (some) => {
        const one = cumulativeSums(some, DESIGN)
        const other = cumulativeSums(
          some.map((value) => -value),
          DESIGN,
        )
        expect(one.up).toEqual(other.down)
        expect(one.down).toEqual(other.up)
      }),
    )
  })

  it('refuses values and designs that are none', () => {
    expect(() => cumulativeSums([0, Number.NaN], DESIGN)).toThrow(OutOfRange)
    expect(() => cumulativeSums([0], { allowance: -1, limit: 4 })).toThrow(OutOfRange)
    expect(() => cumulativeSums([0], { allowance: 0.5, limit: 0 })).toThrow(OutOfRange)
  })
})

describe('run lengths', () => {
  // xcusum.arl of the R package spc 0.6.7, and the fixture's own integral equation, which agree to 11 digits.
  it.each(results.averageRunLengths.rows)('k %d, h %d, mean %d agree with the reference', (...row) => {
    const [allowance, limit, mean, oneSided, headStartHalf, twoSided] = row as [
      number,
      number,
      number,
      number,
      number,
      number,
    ]
    const design = { allowance, limit }
    const relative = (value: number, expected: number) => Math.abs(value / expected - 1)
    expect(relative(averageRunLength(design, { mean }), oneSided)).toBeLessThan(1e-9)
    expect(relative(averageRunLength(design, { mean, headStart: limit / 2 }), headStartHalf)).toBeLessThan(1e-9)
    expect(relative(twoSidedAverageRunLength(design, mean), twoSided)).toBeLessThan(1e-9)
  })

  // xcusum.crit of the same package.
  it('gives the limit for a run length as the reference does', () => {
    const { h370, h1000 } = results.thresholdForRunLength
    expect(limitForRunLength(370, 0.5)).toBeCloseTo(h370, 7)
    expect(limitForRunLength(1000, 0.5)).toBeCloseTo(h1000, 7)
  })

  it('runs for longer with a higher limit, and no longer from a head start', () => {
    const limit = fc.double({ min: 0.5, max: 6, noNaN: true })
    const mean = fc.double({ min: -0.5, max: 2, noNaN: true })
    fc.assert(
      fc.property(limit, mean, fc.double({ min: 0, max: 1, noNaN: true }), (h, shift, share) => {
        const at = (limitNow: number, headStart: number) =>
          averageRunLength({ allowance: 0.5, limit: limitNow }, { mean: shift, headStart })
        expect(at(1.1 * h, 0)).toBeGreaterThan(at(h, 0))
        expect(at(h, share * h)).toBeLessThanOrEqual(at(h, 0) * (1 + 1e-9))
      }),
      { numRuns: 30 },
    )
  })

  it('refuses what cannot be', () => {
    expect(() => averageRunLength({ allowance: 0.5, limit: -1 })).toThrow(OutOfRange)
    expect(() => averageRunLength(DESIGN, { headStart: 9 })).toThrow(OutOfRange)
    expect(() => limitForRunLength(0.5, 0.5)).toThrow(OutOfRange)
  })
})
