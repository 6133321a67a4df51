import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { OutOfRange } from '../../../src/engine/errors.js'
import { betaCdf, betaQuantile, fisherUpperTail, logGamma } from '../../../src/engine/statistics/distributions/beta.js'
import {
  differenceInterval,
  exactInterval,
  fisherExactTest,
  wilsonInterval,
} from '../../../src/engine/statistics/proportion.js'
import proportions from './fixtures/proportions.json' with { type: 'json' }

/** Closed forms, and quantiles to the last digits. Where the truth is 0 or 1 it is so exactly. */
function expectClose(value: number, truth: number): void {
  expect(Math.abs(value - truth), `${value} against ${truth}`).toBeLessThanOrEqual(1e-9 * Math.abs(truth))
}

const { oneSample, twoSample, crossCheck } = proportions.results

// Source: R 4.2.2 and statsmodels on invented counts (`tool` and `model` in the file).
describe('intervals for a share agree with reference programs', () => {
  it.each(oneSample.rows)('%d of %d at %d', (...row) => {
    const of = (column: string) => row[oneSample.columns.indexOf(column)]!
    const [x, n, level] = [of('x'), of('n'), of('level')]
    const wilson = wilsonInterval(x, n, level)
    expectClose(wilson.low, of('wilsonLower'))
    expectClose(wilson.high, of('wilsonUpper'))
    const exact = exactInterval(x, n, level)
    expectClose(exact.low, of('clopperPearsonLower'))
    expectClose(exact.high, of('clopperPearsonUpper'))
    // Jeffreys' interval is the beta distribution's own: no more than a check of its quantiles.
    const jeffreys = (probability: number) => betaQuantile(probability, x + 0.5, n - x + 0.5)
    if (x > 0) expectClose(jeffreys((1 - level) / 2), of('jeffreysLower'))
    if (x < n) expectClose(jeffreys((1 + level) / 2), of('jeffreysUpper'))
  })

  it.each(twoSample.rows)('%d of %d against %d of %d', (...row) => {
    const of = (column: string) => row[twoSample.columns.indexOf(column)]!
    const one = { successes: of('x1'), trials: of('n1') }
    const other = { successes: of('x2'), trials: of('n2') }
    const { low, high } = differenceInterval(one, other, 0.95)
    expectClose(low, of('newcombeLower'))
    expectClose(high, of('newcombeUpper'))
    expectClose(fisherExactTest(one, other), of('pFisherTwoSided'))
  })

  it('the second program says the same', () => {
    expect(crossCheck.length).toBeGreaterThan(5)
    for (const { x, n, level, wilson, clopperPearson } of crossCheck) {
      if (x === undefined) continue
      const [own, exact] = [wilsonInterval(x, n, level), exactInterval(x, n, level)]
      for (const [found, truth] of [
        [own, wilson],
        [exact, clopperPearson],
      ] as const) {
        expectClose(found.low, truth[0]!)
        expectClose(found.high, truth[1]!)
      }
    }
  })
})

describe('the beta distribution', () => {
  it('has the factorials in its gamma function', () => {
    let factorial = 1
    for (let n = 1; n <= 20; n++) {
      factorial *= n
      expect(Math.abs(Math.exp(logGamma(n + 1)) / factorial - 1)).toBeLessThan(1e-12)
    }
    expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.PI) / 2, 13)
  })

  it('has mirrored tails, and a quantile that inverts it', () => {
    const shape = fc.double({ min: 1, max: 200, noNaN: true })
    const share = fc.double({ min: 0.01, max: 0.99, noNaN: true })
    fc.assert(
      fc.property(share, shape, shape, (x, a, b) => {
        expect(betaCdf(x, a, b) + betaCdf(1 - x, b, a)).toBeCloseTo(1, 11)
        expect(betaCdf(betaQuantile(x, a, b), a, b)).toBeCloseTo(x, 9)
      }),
    )
  })

  it('gives F and 1/F the same tails, exchanged', () => {
    expect(fisherUpperTail(2.5, 3, 8) + fisherUpperTail(1 / 2.5, 8, 3)).toBeCloseTo(1, 12)
    expect(fisherUpperTail(0, 3, 8)).toBe(1)
    expect(fisherUpperTail(Infinity, 3, 8)).toBe(0)
  })
})

describe('counts that cannot be', () => {
  it('are refused', () => {
    expect(() => wilsonInterval(0, 0, 0.9)).toThrow(OutOfRange)
    expect(() => wilsonInterval(3, 2, 0.9)).toThrow(OutOfRange)
    expect(() => wilsonInterval(1, 2, 1)).toThrow(OutOfRange)
    expect(() => exactInterval(1.5, 2, 0.9)).toThrow(OutOfRange)
    expect(() => fisherExactTest({ successes: 3, trials: 2 }, { successes: 0, trials: 1 })).toThrow(OutOfRange)
    expect(() => betaCdf(2, 1, 1)).toThrow(OutOfRange)
    expect(() => logGamma(0)).toThrow(OutOfRange)
  })
})
