import { mean } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { OutOfRange } from '../../../../src/engine/errors.js'
import { normalQuantile } from '../../../../src/engine/statistics/distributions/normal.js'
import type { Curve } from '../../../../src/engine/statistics/least-squares/curve.js'
import { fitCurve } from '../../../../src/engine/statistics/least-squares/fit-curve.js'
import { profileLimits } from '../../../../src/engine/statistics/least-squares/profile-limits.js'
import fatigue from '../fixtures/degradation-fatigue-crossing.json' with { type: 'json' }
import weightLoss from '../fixtures/degradation-weight-loss-crossing.json' with { type: 'json' }
import { expectClose } from './closeness.js'

const ESTIMATE = 1e-8
const LIMIT = 1e-6

// Venables and Ripley, Modern Applied Statistics with S, chapter 8, in R 4.2.2 (`source` and `tool` in the file).
describe('a declining weight', () => {
  const { results } = weightLoss
  const points = weightLoss.dataset.rows.map(([x, y]) => ({ x: x!, y: y! }))
  const curve: Curve = {
    parameters: ['b0', 'b1', 'th'],
    at: (t, [b0, b1, th]) => {
      const left = 2 ** (-t / th!)
      return { value: b0! + b1! * left, gradient: [1, left, (b1! * left * Math.LN2 * t) / th! ** 2] }
    },
  }
  const fit = fitCurve(curve, points, [90, 95, 120])

  it('has the parameters, their errors and the residuals', () => {
    Object.values(results.parameters).forEach((truth, i) => {
      expectClose(fit.parameters[i]!, truth, ESTIMATE)
    })
    Object.values(results.se).forEach((truth, i) => {
      expectClose(fit.se[i]!, truth, ESTIMATE)
    })
    fit.covariance.flat().forEach((entry, i) => {
      expectClose(entry, results.covariance.flat()[i]!, ESTIMATE)
    })
    expectClose(fit.residualSumOfSquares, results.residualSumOfSquares, ESTIMATE)
    expectClose(fit.residualSd, results.residualSd, ESTIMATE)
  })

  /** The same curve by the day on which it reaches a weight: b0 + b1·((w − b0)/b1)^(t/day). */
  const throughWeight = (weight: number): Curve => ({
    parameters: ['b0', 'b1', 'day'],
    at: (t, [b0, b1, day]) => {
      const share = (weight - b0!) / b1!
      const left = share ** (t / day!)
      const byShare = (t / day!) * share ** (t / day! - 1)
      return {
        value: b0! + b1! * left,
        gradient: [1 - byShare, left - byShare * share, (-b1! * left * Math.log(share) * t) / day! ** 2],
      }
    },
  })

  it.each(results.crossings)('reaches $weight where the reference does', ({ weight, days, sdDelta, profile95 }) => {
    const [b0, b1, th] = fit.parameters as [number, number, number]
    const start = th * Math.log2(b1 / (weight - b0))
    const crossing = fitCurve(throughWeight(weight), points, [b0, b1, start])
    expectClose(crossing.parameters[2]!, days, ESTIMATE)
    expectClose(crossing.se[2]!, sdDelta, ESTIMATE)
    const { lower, upper } = profileLimits(throughWeight(weight), points, crossing, { index: 2, level: 0.95 })
    expectClose(lower!, profile95.lower, LIMIT)
    expectClose(upper!, profile95.upper, LIMIT)
  })
})

// Lu and Meeker, Technometrics 35 (1993) 161–174: crack paths; computed in R 4.2.2 (`provenance` in the file).
describe('crack paths that reach a length', () => {
  const { results, model } = fatigue
  const column = (name: string) => results.paths.columns.indexOf(name)
  const end = Math.log(model.threshold)
  const curve: Curve = {
    parameters: ['b', 'c'],
    at: (t, [b, c]) => {
      const inside = 1 - b! * c! * t
      if (!(inside > 0)) return { value: Number.NaN, gradient: [Number.NaN, Number.NaN] }
      const value = -Math.log(inside) / b!
      return { value, gradient: [(c! * t) / (b! * inside) - value / b!, t / inside] }
    },
  }
  const crossings: number[] = []

  it.each(results.paths.rows)('path %d', (...row) => {
    const of = (name: string) => row[column(name)]!
    const rows = fatigue.dataset.rows.filter(([path]) => path === of('path'))
    const points = rows.map(([, cycles, length]) => ({ x: cycles!, y: Math.log(length!) }))
    expect(points).toHaveLength(of('n'))
    const fit = fitCurve(curve, points, [1, 3])
    const [b, c] = fit.parameters as [number, number]
    expectClose(b, of('b'), ESTIMATE)
    expectClose(c, of('c'), ESTIMATE)
    expectClose(fit.se[0]!, of('seB'), ESTIMATE)
    expectClose(fit.se[1]!, of('seC'), ESTIMATE)
    expectClose(fit.residualSumOfSquares, of('rss'), ESTIMATE)
    const crossing = -Math.expm1(-b * end) / (b * c)
    expectClose(crossing, of('crossing'), ESTIMATE)
    const byB = (end * Math.exp(-b * end)) / (b * c) - crossing / b
    const byC = -crossing / c
    const [[vb, vbc], [, vc]] = fit.covariance as [[number, number], [number, number]]
    expectClose(Math.sqrt(byB ** 2 * vb + 2 * byB * byC * vbc + byC ** 2 * vc), of('crossingSdDelta'), ESTIMATE)
    crossings.push(crossing)
  })

  it('have a lognormal population', () => {
    const logs = crossings.map(Math.log)
    const middle = mean(logs)
    const squares = logs.reduce((sum, log) => sum + (log - middle) ** 2, 0)
    const sd = Math.sqrt(squares / logs.length)
    expectClose(middle, results.lognormal.meanLog, ESTIMATE)
    expectClose(sd, results.lognormal.sdLogMl, ESTIMATE)
    expectClose(Math.sqrt(squares / (logs.length - 1)), results.lognormal.sdLogUnbiased, ESTIMATE)
    for (const [name, truth] of Object.entries(results.lognormal.quantiles)) {
      expectClose(Math.exp(middle + normalQuantile(Number(name.slice(1)) / 100) * sd), truth, ESTIMATE)
    }
  })
})

describe('fitCurve', () => {
  const line: Curve = { parameters: ['a', 'b'], at: (x, [a, b]) => ({ value: a! + b! * x, gradient: [1, x] }) }
  const points = [0, 1, 2].map((x) => ({ x, y: 1 + 2 * x }))

  it('goes through points that lie on the curve', () => {
    const { parameters, residualSumOfSquares } = fitCurve(line, points, [0, 0])
    expect(parameters[0]).toBeCloseTo(1, 10)
    expect(parameters[1]).toBeCloseTo(2, 10)
    expect(residualSumOfSquares).toBeLessThan(1e-20)
  })

  it('says that parameters are not told apart, instead of giving them errors', () => {
    const twice: Curve = { parameters: ['a', 'b'], at: (_, [a, b]) => ({ value: a! + b!, gradient: [1, 1] }) }
    const { se } = fitCurve(
      twice,
      [1, 2, 3].map((y, x) => ({ x, y })),
      [0, 0],
    )
    expect(se).toEqual([Infinity, Infinity])
  })

  it('has no limit where the data set none', () => {
    const decay: Curve = {
      parameters: ['size', 'rate'],
      at: (x, [size, rate]) => {
        const left = Math.exp(-Math.exp(rate!) * x)
        return { value: size! * left, gradient: [left, -size! * left * Math.exp(rate!) * x] }
      },
    }
    const still = [10, 10.4, 9.5, 10.1, 9.8].map((y, x) => ({ x, y }))
    const fit = fitCurve(decay, still, [10, -4])
    expect(profileLimits(decay, still, fit, { index: 1, level: 0.9 }).lower).toBeNull()
  })

  it('refuses too few points, points that are none, and a start where the curve is none', () => {
    expect(() => fitCurve(line, points.slice(1), [0, 0])).toThrow(OutOfRange)
    expect(() => fitCurve(line, [...points, { x: Number.NaN, y: 1 }], [0, 0])).toThrow(OutOfRange)
    expect(() => fitCurve(line, points, [Number.NaN, 0])).toThrow(OutOfRange)
  })
})
