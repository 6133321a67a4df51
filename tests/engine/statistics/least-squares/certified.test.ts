import { describe, expect, it } from 'vitest'
import type { Curve } from '../../../../src/engine/statistics/least-squares/curve.js'
import { fitCurve } from '../../../../src/engine/statistics/least-squares/fit-curve.js'
import chwirut2 from '../fixtures/strd-chwirut2.json' with { type: 'json' }
import misra1a from '../fixtures/strd-misra1a.json' with { type: 'json' }
import misra1b from '../fixtures/strd-misra1b.json' with { type: 'json' }
import rat43 from '../fixtures/strd-rat43.json' with { type: 'json' }
import thurber from '../fixtures/strd-thurber.json' with { type: 'json' }
import { expectClose } from './closeness.js'

/** NIST prints eleven digits. */
const TOLERANCE = 1e-8

const curves: Readonly<Record<string, Curve['at']>> = {
  'strd-misra1a': (x, [b1, b2]) => {
    const left = Math.exp(-b2! * x)
    return { value: b1! * (1 - left), gradient: [1 - left, b1! * x * left] }
  },
  'strd-misra1b': (x, [b1, b2]) => {
    const base = 1 + (b2! * x) / 2
    return { value: b1! * (1 - base ** -2), gradient: [1 - base ** -2, b1! * x * base ** -3] }
  },
  'strd-chwirut2': (x, [b1, b2, b3]) => {
    const value = Math.exp(-b1! * x) / (b2! + b3! * x)
    return { value, gradient: [-x * value, -value / (b2! + b3! * x), (-value * x) / (b2! + b3! * x)] }
  },
  'strd-rat43': (x, [b1, b2, b3, b4]) => {
    const e = Math.exp(b2! - b3! * x)
    const value = b1! * (1 + e) ** (-1 / b4!)
    const slope = (-value * e) / (b4! * (1 + e))
    return { value, gradient: [value / b1!, slope, -x * slope, (value * Math.log1p(e)) / b4! ** 2] }
  },
  'strd-thurber': (x, b) => {
    const powers = [1, x, x ** 2, x ** 3]
    const top = powers.reduce((sum, power, i) => sum + b[i]! * power, 0)
    const bottom = 1 + b[4]! * x + b[5]! * x ** 2 + b[6]! * x ** 3
    const below = powers.slice(1).map((power) => (-top * power) / bottom ** 2)
    return { value: top / bottom, gradient: [...powers.map((power) => power / bottom), ...below] }
  },
}

interface Certified {
  readonly case: string
  readonly dataset: { readonly rows: readonly (readonly number[])[] }
  readonly model: { readonly starts: Readonly<Record<string, Readonly<Record<string, number>>>> }
  readonly results: {
    readonly certified: {
      readonly parameters: Readonly<Record<string, number>>
      readonly standardDeviations: Readonly<Record<string, number>>
      readonly residualSumOfSquares: number
      readonly residualStandardDeviation: number
      readonly degreesOfFreedom: number
    }
  }
}

// Source: NIST Statistical Reference Datasets, nonlinear regression, certified values and both starts.
describe.each<Certified>([misra1a, misra1b, chwirut2, rat43, thurber])('fitCurve on $case', (reference) => {
  const { certified } = reference.results
  const names = Object.keys(certified.parameters)
  const curve: Curve = { parameters: names, at: curves[reference.case]! }
  const points = reference.dataset.rows.map(([y, x]) => ({ x: x!, y: y! }))

  it.each(Object.entries(reference.model.starts))('reaches the certified values from %s', (_, start) => {
    const fit = fitCurve(
      curve,
      points,
      names.map((name) => start[name]!),
    )
    names.forEach((name, j) => {
      expectClose(fit.parameters[j]!, certified.parameters[name]!, TOLERANCE)
      expectClose(fit.se[j]!, certified.standardDeviations[name]!, TOLERANCE)
    })
    expectClose(fit.residualSumOfSquares, certified.residualSumOfSquares, TOLERANCE)
    expectClose(fit.residualSd, certified.residualStandardDeviation, TOLERANCE)
    // Rat43 has 15 rows and 4 parameters: 11, which its printed residual deviation is made with; 9 is a slip in print.
    expect(fit.degreesOfFreedom).toBe(reference.case === 'strd-rat43' ? 11 : certified.degreesOfFreedom)
  })
})
