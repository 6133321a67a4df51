import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { OutOfRange } from '../../../../src/engine/errors.js'
import { solveSymmetric } from '../../../../src/engine/statistics/linear-algebra/cholesky.js'
import { fitMixedModel } from '../../../../src/engine/statistics/mixed-model/fit.js'
import { randomData, targetOf } from './random-data.js'

/** Linear algebra on well-conditioned systems of some tens of unknowns: eight digits are left with room to spare. */
const TOLERANCE = 1e-8
const HELD = { outer: 0.6, inner: 0.3, crossed: 0.4, residual: 0.2 }
const NO_LINKS = { multipleOuter: false, errorCovariance: false, residualScale: true, fixedPrior: true }

describe('contrasts of a fit', () => {
  it('leave out the rows that they pick: residuals as predicted without them', () => {
    fc.assert(
      fc.property(fc.nat(1e9), (seed) => {
        const data = randomData({ seed, rows: 40, parts: NO_LINKS })
        const fit = fitMixedModel(data, { heldVariances: HELD })
        const rows = [3, 4, 11, 25]
        const { response, precision } = fit.contrasts(rows.map((row) => [{ row, weight: 1 }]))
        const residuals = solveSymmetric(precision, response)!
        rows.forEach((row, at) => {
          const predicted = fit.predict(targetOf(data, row), rows).mean
          expect(Math.abs(residuals[at]! - (data.y[row]! - predicted))).toBeLessThan(TOLERANCE)
        })
      }),
      { seed: 20260401, numRuns: 15 },
    )
  })

  it('add up: a sum of rows has the sums of their entries', () => {
    const data = randomData({ seed: 5, rows: 40, parts: { ...NO_LINKS, errorCovariance: true } })
    const fit = fitMixedModel(data, { heldVariances: HELD })
    const single = [2, 9, 30].map((row) => [{ row, weight: 1 }])
    const { response, precision } = fit.contrasts([...single, single.flat(), [{ row: 2, weight: -2 }]])
    const sum = (values: number[]) => values.reduce((total, value) => total + value, 0)
    expect(response[3]).toBeCloseTo(sum([0, 1, 2].map((i) => response[i]!)), 10)
    expect(precision[3 * 5 + 3]).toBeCloseTo(
      sum([0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => precision[i * 5 + j]!))),
      10,
    )
    expect(response[4]).toBeCloseTo(-2 * response[0]!, 10)
    expect(precision[4 * 5 + 1]).toBeCloseTo(-2 * precision[1]!, 10)
    const { py, diagonal } = fit.projected()
    expect(response[1]).toBeCloseTo(py[9]!, 10)
    expect(precision[6]).toBeCloseTo(diagonal[9]!, 10)
  })

  it('refuse a row that there is not', () => {
    const fit = fitMixedModel(randomData({ seed: 5, rows: 40, parts: NO_LINKS }), { heldVariances: HELD })
    expect(() => fit.contrasts([[{ row: 40, weight: 1 }]])).toThrow(OutOfRange)
  })
})
