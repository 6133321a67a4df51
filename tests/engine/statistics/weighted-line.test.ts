import { describe, expect, it } from 'vitest'
import { OutOfRange } from '../../../src/engine/errors.js'
import { normalQuantile } from '../../../src/engine/statistics/distributions/normal.js'
import { studentQuantile } from '../../../src/engine/statistics/distributions/student-t.js'
import {
  type CrossingLimits,
  crossingLimits,
  type ErrorKind,
  fitWeightedLine,
  type LinePoint,
  lineBand,
  lineCrossing,
} from '../../../src/engine/statistics/weighted-line.js'
import bounded from './fixtures/weighted-line-crossing.json' with { type: 'json' }
import unbounded from './fixtures/weighted-line-crossing-unbounded.json' with { type: 'json' }

/** Closed forms agree to rounding; the fixtures hold 15 to 17 digits. */
const TOLERANCE = 1e-9

function expectClose(value: number, truth: number): void {
  expect(Math.abs(value - truth)).toBeLessThanOrEqual(TOLERANCE * Math.abs(truth))
}

function expectLimits(limits: CrossingLimits, truth: { g: number; kind: string; lower: number; upper: number }): void {
  expectClose(limits.g, truth.g)
  expect(limits.kind).toBe(truth.kind === 'bounded' ? 'bounded' : 'outside')
  if (limits.kind === 'everywhere') throw new Error('limits expected')
  expectClose(limits.lower, truth.lower)
  expectClose(limits.upper, truth.upper)
}

const pointsOf = (rows: number[][]): LinePoint[] => rows.map(([x, y, sd]) => ({ x: x!, y: y!, sd: sd! }))

// Source: R 4.2.2, lm with weights and Fieller's closed form (`tool` and `model` in the files).
describe.each([bounded, unbounded])('fixture $case', ({ dataset, model, results }) => {
  const points = pointsOf(dataset.rows)
  const line = fitWeightedLine(points, 'relative')
  const known = fitWeightedLine(points, 'known')

  it('has the coefficients and their covariance', () => {
    expectClose(line.intercept, results.intercept)
    expectClose(line.slope, results.slope)
    expectClose(line.scale, results.residualScale)
    expect(line.degreesOfFreedom).toBe(results.degreesOfFreedom)
    expectClose(Math.sqrt(line.covariance[0][0]), results.se.intercept)
    expectClose(Math.sqrt(line.varianceOfSlope), results.se.slope)
    for (const [fit, truth] of [
      [line, results.covariance],
      [known, results.covarianceKnownErrors],
    ] as const) {
      fit.covariance.flat().forEach((entry, k) => {
        expectClose(entry, truth.flat()[k]!)
      })
    }
  })

  it('crosses the threshold where the reference does', () => {
    const { x, sd } = lineCrossing(line, model.threshold)
    expectClose(x, results.crossing)
    expectClose(sd, results.crossingSdDelta)
  })

  it.each(results.levels)('has the bands and limits at level $level', (expected) => {
    expectClose(studentQuantile((1 + expected.level) / 2, line.degreesOfFreedom), expected.tQuantile)
    expectClose(normalQuantile((1 + expected.level) / 2), expected.zQuantile)
    for (const [x, fit, se, confLower, confUpper, predLower, predUpper] of expected.prediction.rows) {
      const band = lineBand(line, x!, expected.level, model.newWeighingSd)
      const values = [band.fit, band.se, ...band.confidence, ...band.prediction]
      values.forEach((value, k) => {
        expectClose(value, [fit, se, confLower, confUpper, predLower, predUpper][k]!)
      })
    }
    const sd = model.newWeighingSd
    expectLimits(crossingLimits(line, model.threshold, expected.level, 0), expected.fiellerMeanCrossing)
    expectLimits(crossingLimits(line, model.threshold, expected.level, sd), expected.inversePredictionOneNewWeighing)
    expectLimits(crossingLimits(known, model.threshold, expected.level, 0), expected.fiellerKnownErrors)
  })
})

describe('crossingLimits', () => {
  it('excludes no x where the value lies inside the band of a line without slope', () => {
    const line = fitWeightedLine(
      pointsOf([
        [0, 5, 1],
        [1, 5.1, 1],
        [2, 5, 1],
      ]),
      'known',
    )
    expect(crossingLimits(line, 5, 0.95, 0).kind).toBe('everywhere')
  })

  it('is unmoved by a shift of x', () => {
    const rows = [
      [0, 9, 1],
      [3, 7, 2],
      [5, 2, 1],
      [6, 1.5, 1],
    ]
    const near = crossingLimits(fitWeightedLine(pointsOf(rows), 'known'), 0, 0.9, 0)
    const moved = rows.map(([x, y, sd]) => [x! + 1000, y!, sd!])
    const far = crossingLimits(fitWeightedLine(pointsOf(moved), 'known'), 0, 0.9, 0)
    if (near.kind !== 'bounded' || far.kind !== 'bounded') throw new Error('bounded limits expected')
    expect(far.lower - 1000).toBeCloseTo(near.lower, 9)
    expect(far.upper - 1000).toBeCloseTo(near.upper, 9)
  })
})

describe('fitWeightedLine', () => {
  it.each<[string, number[][], ErrorKind]>([
    [
      'too few points',
      [
        [0, 1, 1],
        [1, 2, 1],
      ],
      'relative',
    ],
    [
      'one x',
      [
        [1, 1, 1],
        [1, 2, 1],
        [1, 3, 1],
      ],
      'known',
    ],
    [
      'an sd of zero',
      [
        [0, 1, 1],
        [1, 2, 0],
        [2, 3, 1],
      ],
      'known',
    ],
    [
      'a y that is missing',
      [
        [0, 1, 1],
        [1, Number.NaN, 1],
        [2, 3, 1],
      ],
      'known',
    ],
  ])('refuses %s', (_, rows, errors) => {
    expect(() => fitWeightedLine(pointsOf(rows), errors)).toThrow(OutOfRange)
  })
})
