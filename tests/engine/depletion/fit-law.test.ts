import { describe, expect, it } from 'vitest'
import { fitFreeLaw, fitLaw } from '../../../src/engine/depletion/fit-law.js'
import { OutOfRange } from '../../../src/engine/errors.js'
import exponential from '../statistics/fixtures/depletion-law-exponential.json' with { type: 'json' }
import linear from '../statistics/fixtures/depletion-law-linear.json' with { type: 'json' }
import twoThirds from '../statistics/fixtures/depletion-law-two-thirds.json' with { type: 'json' }
import { expectClose } from '../statistics/least-squares/closeness.js'

/** Two optimisers at one optimum, and sums of squares and likelihoods, which are flat there. */
const ESTIMATE = 1e-8
/** Of profile limits by root finding; the reference gives about seven digits. */
const LIMIT = 1e-6

// Source: R 4.2.2 on invented masses (`source`, `tool` and `model` in the files).
describe.each([linear, twoThirds, exponential])('fixture $case', ({ dataset, results }) => {
  const masses = dataset.rows.map(([days, netMassG]) => ({ days: days!, netMassG: netMassG! }))

  it.each(results.fixedQ)('has the fit with q = $q', (expected) => {
    const { fit, logLikelihood, aic, crossing } = fitLaw(masses, expected.q, expected.crossing.fraction)
    expectClose(fit.parameters[0]!, expected.m0, ESTIMATE)
    expectClose(fit.parameters[1]!, expected.k, ESTIMATE)
    expectClose(fit.se[0]!, expected.se.m0, ESTIMATE)
    expectClose(fit.se[1]!, expected.se.k, ESTIMATE)
    fit.covariance.flat().forEach((entry, i) => {
      expectClose(entry, expected.covariance.flat()[i]!, ESTIMATE)
    })
    expectClose(fit.residualSumOfSquares, expected.rss, ESTIMATE)
    expectClose(fit.residualSd, expected.residualSd, ESTIMATE)
    expectClose(logLikelihood, expected.logLikelihood, ESTIMATE)
    expectClose(aic, expected.aic, ESTIMATE)
    expectClose(crossing.days, expected.crossing.days, ESTIMATE)
    expectClose(crossing.sd, expected.crossing.sdDelta, ESTIMATE)
    expectClose(crossing.limits.lower!, expected.crossing.profile95.lower, LIMIT)
    expectClose(crossing.limits.upper!, expected.crossing.profile95.upper, LIMIT)
  })

  it('has the fit with q free, its errors turned into those of the reference parameters', () => {
    const { fraction } = results.fixedQ[0]!.crossing
    const held = results.fixedQ.map(({ q }) => fitLaw(masses, q, fraction)).sort((a, b) => a.aic - b.aic)
    const { fit, logLikelihood, aic } = fitFreeLaw(masses, held[0]!)
    const [m0, k, q] = fit.parameters as [number, number, number]
    const expected = results.freePower
    expectClose(m0, expected.m0, 1e-7)
    expectClose(k, expected.impliedK, 1e-6)
    expectClose(q, expected.impliedQ, 1e-6)
    expectClose(fit.residualSumOfSquares, expected.rss, ESTIMATE)
    expectClose(fit.residualSd, expected.residualSd, ESTIMATE)
    expectClose(logLikelihood, expected.logLikelihood, ESTIMATE)
    expectClose(aic, expected.aic, ESTIMATE)
    expectClose(fit.se[0]!, expected.se.m0, 1e-5)
    // p = 1/(1 − q): dp = p²·dq. τ = p·m₀/k.
    const p = 1 / (1 - q)
    expectClose(p ** 2 * fit.se[2]!, expected.se.p, 1e-4)
    const gradient = [p / k, (-p * m0) / k ** 2, (p ** 2 * m0) / k]
    const variance = gradient.reduce(
      (sum, a, i) => sum + gradient.reduce((inner, b, j) => inner + a * b * fit.covariance[i]![j]!, 0),
      0,
    )
    expectClose(Math.sqrt(variance), expected.se.tau, 1e-4)
  })
})

describe('fitLaw', () => {
  const falling = [
    { days: 0, netMassG: 1000 },
    { days: 100, netMassG: 900 },
    { days: 200, netMassG: 790 },
  ]

  it('refuses what has no law', () => {
    expect(() => fitLaw(falling.slice(1), 0, 0.5)).toThrow(OutOfRange)
    expect(() =>
      fitLaw(
        [...falling].reverse().map((m, i) => ({ ...m, days: i })),
        0,
        0.5,
      ),
    ).toThrow('do not fall')
    expect(() => fitLaw(falling, 0, 1)).toThrow(OutOfRange)
    expect(() => fitLaw(falling, -1, 0.5)).toThrow(OutOfRange)
  })

  it('goes through masses that lie on the law', () => {
    const exact = [0, 100, 200, 300].map((days) => ({ days, netMassG: 1000 - days }))
    const { fit, crossing } = fitLaw(exact, 0, 0.5)
    expect(fit.parameters[1]).toBeCloseTo(1, 10)
    expect(crossing.days).toBeCloseTo(500, 8)
  })
})
