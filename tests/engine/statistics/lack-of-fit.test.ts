import { describe, expect, it } from 'vitest'
import { OutOfRange } from '../../../src/engine/errors.js'
import { studentQuantile } from '../../../src/engine/statistics/distributions/student-t.js'
import { lackOfFit } from '../../../src/engine/statistics/lack-of-fit.js'
import { fitWeightedLine } from '../../../src/engine/statistics/weighted-line.js'
import corrosion from './fixtures/corrosion-lack-of-fit.json' with { type: 'json' }
import { expectClose } from './least-squares/closeness.js'

const CLOSED_FORM = 1e-9

// Draper and Smith, Applied Regression Analysis (1998): corrosion of copper-nickel in seawater; R 4.2.2 on their rows.
describe('a straight line through corrosion losses', () => {
  const { results } = corrosion
  const points = corrosion.dataset.rows.map(([x, y]) => ({ x: x!, y: y!, sd: 1 }))
  const line = fitWeightedLine(points, 'relative')
  const squares = line.scale ** 2 * line.degreesOfFreedom

  it('has the printed coefficients', () => {
    expectClose(line.intercept, results.intercept, CLOSED_FORM)
    expectClose(line.slope, results.slope, CLOSED_FORM)
    expectClose(line.scale, results.residualSd, CLOSED_FORM)
    line.covariance.flat().forEach((entry, i) => {
      expectClose(entry, results.covariance.flat()[i]!, CLOSED_FORM)
    })
    const t = studentQuantile(0.975, line.degreesOfFreedom)
    const slopeSe = Math.sqrt(line.varianceOfSlope)
    expectClose(line.slope / slopeSe, results.t.slope, CLOSED_FORM)
    expectClose(line.slope - t * slopeSe, results.confidence95[1]![0]!, CLOSED_FORM)
    expectClose(line.slope + t * slopeSe, results.confidence95[1]![1]!, CLOSED_FORM)
  })

  it('fits worse than repeats allow', () => {
    const test = lackOfFit(points, squares, 2)!
    expectClose(test.lackOfFitSquares, results.lackOfFit.sumOfSquaresLackOfFit, CLOSED_FORM)
    expect(test.lackOfFitFreedom).toBe(results.lackOfFit.dfLackOfFit)
    expectClose(test.pureErrorSquares, results.lackOfFit.sumOfSquaresPureError, CLOSED_FORM)
    expect(test.pureErrorFreedom).toBe(results.lackOfFit.dfPureError)
    expectClose(test.f, results.lackOfFit.F, CLOSED_FORM)
    expectClose(test.probability, results.lackOfFit.p, CLOSED_FORM)
  })
})

describe('lackOfFit', () => {
  it('has nothing to say without repeats, or with repeats that are all alike', () => {
    const apart = [0, 1, 2].map((x) => ({ x, y: x ** 2 }))
    expect(lackOfFit(apart, 1, 2)).toBeNull()
    expect(lackOfFit([...apart, ...apart], 1, 2)).toBeNull()
  })

  it('refuses a sum of squares below zero', () => {
    expect(() => lackOfFit([], -1, 2)).toThrow(OutOfRange)
  })
})
