import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { OutOfRange } from '../../../src/engine/errors.js'
import { repeatedMedianLine, theilSenLine } from '../../../src/engine/statistics/median-line.js'
import { bisquareLine, huberLine } from '../../../src/engine/statistics/robust-line.js'
import { studentWeights } from '../../../src/engine/statistics/student-weights.js'
import { fitWeightedLine } from '../../../src/engine/statistics/weighted-line.js'
import robust from './fixtures/robust-line.json' with { type: 'json' }
import { expectClose } from './least-squares/closeness.js'

const points = robust.dataset.rows.map(([x, y]) => ({ x: x!, y: y! }))
const { results } = robust

const CLOSED_FORM = 1e-9
/** Of estimates by iteration. */
const M_ESTIMATE = 1e-6

// Source: R 4.2.2 with MASS 7.3-58.2, SciPy 1.10.1 (`tool` and `model` in the file).
describe('lines through points with four gross errors', () => {
  it('least squares', () => {
    const line = fitWeightedLine(
      points.map((point) => ({ ...point, sd: 1 })),
      'relative',
    )
    expectClose(line.intercept, results.leastSquares.intercept, CLOSED_FORM)
    expectClose(line.slope, results.leastSquares.slope, CLOSED_FORM)
    expectClose(line.scale, results.leastSquares.residualSd, CLOSED_FORM)
    expectClose(Math.sqrt(line.covariance[0][0]), results.leastSquares.se.intercept, CLOSED_FORM)
    expectClose(Math.sqrt(line.covariance[1][1]), results.leastSquares.se.slope, CLOSED_FORM)
  })

  it.each([
    ['Huber', huberLine, results.huber],
    ['bisquare', bisquareLine, results.bisquare],
  ] as const)('%s', (_, lineOf, expected) => {
    const line = lineOf(points)
    expectClose(line.intercept, expected.intercept, M_ESTIMATE)
    expectClose(line.slope, expected.slope, M_ESTIMATE)
    expectClose(line.scale, expected.scaleMad, M_ESTIMATE)
    expectClose(line.se.intercept, expected.se.intercept, M_ESTIMATE)
    expectClose(line.se.slope, expected.se.slope, M_ESTIMATE)
    line.weights.forEach((weight, i) => {
      expectClose(weight, expected.weights[i]!, M_ESTIMATE)
    })
  })

  // The scale mixture that the rate model's residuals have, here with its scale by maximum likelihood.
  it.each(results.studentT)('Student t of $df degrees of freedom', ({ df, ...expected }) => {
    let scale = results.huber.scaleMad
    let weights = points.map(() => 1)
    let line = { intercept: results.huber.intercept, slope: results.huber.slope }
    for (let pass = 0; pass < 500; pass++) {
      const residuals = points.map(({ x, y }) => y - line.intercept - line.slope * x)
      weights = [
        ...studentWeights(
          residuals.map((residual) => residual / scale),
          df,
        ),
      ]
      scale = Math.sqrt(residuals.reduce((sum, residual, i) => sum + weights[i]! * residual ** 2, 0) / points.length)
      line = fitWeightedLine(
        points.map((point, i) => ({ ...point, sd: 1 / Math.sqrt(weights[i]!) })),
        'known',
      )
    }
    expectClose(line.intercept, expected.intercept, M_ESTIMATE)
    expectClose(line.slope, expected.slope, M_ESTIMATE)
    expectClose(scale, expected.scale, M_ESTIMATE)
    weights.forEach((weight, i) => {
      expectClose(weight, expected.weights[i]!, M_ESTIMATE)
    })
  })

  it('Theil and Sen, with the interval for the slope', () => {
    const line = theilSenLine(points, 0.95)
    expectClose(line.slope, results.theilSen.slope, CLOSED_FORM)
    expectClose(line.intercept, results.theilSen.interceptMedianOfResiduals, CLOSED_FORM)
    for (const [level, limits] of [
      [0.95, results.theilSen.interval95],
      [0.9, results.theilSen.interval90],
    ] as const) {
      const { slopeLimits } = theilSenLine(points, level)
      expectClose(slopeLimits[0], limits[0]!, CLOSED_FORM)
      expectClose(slopeLimits[1], limits[1]!, CLOSED_FORM)
    }
  })

  it('repeated medians', () => {
    const line = repeatedMedianLine(points)
    expectClose(line.slope, results.siegelRepeatedMedians.slope, CLOSED_FORM)
    expectClose(line.intercept, results.siegelRepeatedMedians.intercept, CLOSED_FORM)
  })
})

const lines = [
  ['Huber', huberLine],
  ['bisquare', bisquareLine],
  ['Theil and Sen', (of: typeof points) => theilSenLine(of, 0.9)],
  ['repeated medians', repeatedMedianLine],
] as const

describe.each(lines)('%s', (_, lineOf) => {
  it('finds a line that all points but one lie on', () => {
    const coefficient = fc.double({ min: -100, max: 100, noNaN: true })
    fc.assert(
      fc.property(coefficient, coefficient, fc.nat(7), (intercept, slope, wrong) => {
        const on = Array.from({ length: 8 }, (_, x) => ({ x, y: intercept + slope * x + (x === wrong ? 1e4 : 0) }))
        const line = lineOf(on)
        expect(line.slope).toBeCloseTo(slope, 6)
        expect(line.intercept).toBeCloseTo(intercept, 5)
      }),
    )
  })

  it('refuses what has no line', () => {
    expect(() => lineOf([])).toThrow(OutOfRange)
    expect(() => lineOf([1, 2, 3].map((y) => ({ x: 1, y })))).toThrow(OutOfRange)
    expect(() => lineOf([1, 2, Number.NaN].map((y, x) => ({ x, y })))).toThrow(OutOfRange)
  })
})
