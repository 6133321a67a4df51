import fc from 'fast-check'
import { Matrix } from 'ml-matrix'
import { describe, expect, it } from 'vitest'
import { fitMixedModel } from '../../../../src/engine/statistics/mixed-model/fit.js'
import type { MixedModelData } from '../../../../src/engine/statistics/mixed-model/types.js'
import { denseModel } from './dense-model.js'
import { type Parts, randomData, reordered, targetOf, uniforms, without } from './random-data.js'

/** Linear algebra on well-conditioned systems of some tens of unknowns: eight digits are left with room to spare. */
const TOLERANCE = 1e-8
const RUNS = { seed: 20260401, numRuns: 25 }

const part = fc.record<Parts>({
  multipleOuter: fc.boolean(),
  errorCovariance: fc.boolean(),
  residualScale: fc.boolean(),
  fixedPrior: fc.boolean(),
})
/** What a data set is drawn from; a failure prints this instead of all its rows. */
const draws = fc.record({ seed: fc.nat(1e9), rows: fc.integer({ min: 25, max: 60 }), parts: part })
const variance = fc.double({ min: 0.02, max: 3, noNaN: true })
const variances = fc.record({ outer: variance, inner: variance, crossed: variance, residual: variance })

function close(value: number, truth: number): void {
  expect(Math.abs(value - truth)).toBeLessThan(TOLERANCE * (1 + Math.abs(truth)))
}

describe('the blocked model at held variances', () => {
  it('has the criterion, effects and errors of the dense one', () => {
    fc.assert(
      fc.property(draws, variances, (draw, heldVariances) => {
        const data = randomData(draw)
        const fit = fitMixedModel(data, { heldVariances })
        const dense = denseModel(data, heldVariances)
        const { estimates, covariance } = dense.henderson()
        close(fit.remlCriterion, dense.criterion())
        fit.fixed.forEach(({ estimate, se }, j) => {
          close(estimate, estimates[j]!)
          close(se, Math.sqrt(covariance.get(j, j)))
        })
        dense.effects.forEach(({ term, level }, k) => {
          const own = fit.effects[term]!.find((effect) => effect.level === level)!
          close(own.mode, estimates[3 + k]!)
          close(own.predictionSd, Math.sqrt(covariance.get(3 + k, 3 + k)))
        })
      }),
      RUNS,
    )
  })

  it('holds the fixed effects in the conditional standard deviations', () => {
    fc.assert(
      fc.property(draws, variances, (draw, heldVariances) => {
        const data = randomData(draw)
        const fit = fitMixedModel(data, { heldVariances })
        // Fixed effects that are known: no columns at all.
        const { covariance } = denseModel({ ...data, fixed: [], fixedNames: [] }, heldVariances).henderson()
        fit.effects.outer!.forEach((own, k) => {
          close(own.conditionalSd, Math.sqrt(covariance.get(k, k)))
        })
        fit.effects.crossed!.forEach((own, k) => {
          close(own.conditionalSd, Math.sqrt(covariance.get(20 + k, 20 + k)))
        })
      }),
      RUNS,
    )
  })

  it('predicts like the dense one, with rows left out and levels unseen', () => {
    fc.assert(
      fc.property(draws, variances, fc.nat(20), fc.nat(20), (draw, heldVariances, a, b) => {
        const data = randomData(draw)
        const fit = fitMixedModel(data, { heldVariances })
        const target = targetOf(data, a)
        for (const rows of [[], [a], [a, b], [a, b, 22, 23]]) {
          const dense = denseModel(without(data, rows), heldVariances)
          const { estimates, covariance } = dense.henderson()
          const w = Matrix.columnVector(dense.coefficients(target))
          const { mean, variance: spread } = fit.predict(target, rows)
          close(mean, w.dot(Matrix.columnVector(estimates)))
          close(spread, w.transpose().mmul(covariance).mmul(w).get(0, 0))
        }
        const seen = fit.predict({ ...target, random: { crossed: target.random.crossed! } })
        const unseen = [{ level: 'new', weight: 0.6 }]
        const more = fit.predict({ ...target, random: { crossed: target.random.crossed!, outer: unseen } })
        close(more.variance - seen.variance, 0.36 * heldVariances.outer)
      }),
      RUNS,
    )
  })

  it('standardises each row as a prediction without it does', () => {
    fc.assert(
      fc.property(draws, variances, fc.nat(20), (draw, heldVariances, row) => {
        const data = randomData(draw)
        // Errors that are shared with the row left out would enter the prediction of its value, not of its mean.
        const { errorCovariance: _, ...independent } = data
        const fit = fitMixedModel(independent, { heldVariances })
        const { mean, variance: spread } = fit.predict(targetOf(independent, row), [row])
        const residual = heldVariances.residual * (data.residualScale?.[row] ?? 1)
        const sd = Math.sqrt(spread + residual + data.errorVariance[row]!)
        close(fit.leaveOneOut()[row]!, (data.y[row]! - mean) / sd)
      }),
      RUNS,
    )
  })

  it('takes added rows as if they had been there', () => {
    fc.assert(
      fc.property(draws, variances, (draw, heldVariances) => {
        const data = randomData(draw)
        const count = data.y.length
        const first = without(data, [count - 2, count - 1])
        const fit = fitMixedModel(first, { heldVariances }).withRows(
          [count - 2, count - 1].map((row) => ({
            y: data.y[row]!,
            target: targetOf(data, row),
            errorVariance: data.errorVariance[row]!,
            ...(data.residualScale && { residualScale: data.residualScale[row]! }),
            errorCovariance: (data.errorCovariance ?? []).filter((entry) => entry.row === row),
          })),
        )
        const whole = fitMixedModel(data, { heldVariances })
        close(fit.remlCriterion, whole.remlCriterion)
        const [one, two] = [fit.predict(targetOf(data, count - 1)), whole.predict(targetOf(data, count - 1))]
        close(one.mean, two.mean)
        close(one.variance, two.variance)
      }),
      RUNS,
    )
  })
})

/** Slope of the dense criterion (plus penalty) by the log of a variance, by central differences. */
function denseSlope(data: MixedModelData, at: Readonly<Record<string, number>>, name: string): number {
  const step = 1e-4
  const value = (sign: number): number =>
    denseModel(data, { ...at, [name]: at[name]! * Math.exp(sign * step) }).criterion()
  return (value(1) - value(-1)) / (2 * step)
}

describe('rows added on levels that the data have not met', () => {
  const data = randomData({
    seed: 8,
    rows: 40,
    parts: { multipleOuter: false, errorCovariance: true, residualScale: true, fixedPrior: true },
  })
  const heldVariances = { outer: 0.5, inner: 0.2, crossed: 0.3, residual: 0.1 }
  const fit = fitMixedModel(data, { heldVariances })

  it.each([
    ['eliminated', { outer: [{ level: 'new', weight: 1 }], inner: [{ level: 'new', weight: 1 }], crossed: [] }],
    [
      'one eliminated, one met',
      {
        outer: [{ level: 'o1', weight: 1 }],
        inner: [{ level: 'new', weight: 1 }],
        crossed: [{ level: 'c0', weight: 0.4 }],
      },
    ],
    ['of the small system', { outer: [{ level: 'o1', weight: 1 }], inner: [], crossed: [{ level: 'new', weight: 1 }] }],
    ['no level at all', { outer: [], inner: [], crossed: [] }],
    [
      'two blocks at once',
      {
        outer: [
          { level: 'o1', weight: 0.5 },
          { level: 'o3', weight: 0.5 },
        ],
        inner: [],
        crossed: [],
      },
    ],
  ])('are taken like any others: %s', (_, random) => {
    const target = { fixed: [1, 0.7, 1], random }
    const extended = fit.withRows([
      { y: 6, target, errorVariance: 0.05, errorCovariance: [{ other: 3, covariance: -0.01 }] },
      { y: 5, target, errorVariance: 0.08, residualScale: 2, errorCovariance: [{ other: 40, covariance: 0.02 }] },
    ])
    const whole = denseModel(extended.data, heldVariances)
    const { estimates, covariance } = whole.henderson()
    const w = Matrix.columnVector(whole.coefficients(target))
    const { mean, variance: spread } = extended.predict(target)
    close(mean, w.dot(Matrix.columnVector(estimates)))
    close(spread, w.transpose().mmul(covariance).mmul(w).get(0, 0))
    close(extended.remlCriterion, whole.criterion())
    expect(extended.leaveOneOut()).toHaveLength(42)
  })
})

describe('the variances found', () => {
  it('are where the dense criterion is level, or rises from zero', () => {
    fc.assert(
      fc.property(draws, (draw) => {
        const data = randomData(draw)
        const fit = fitMixedModel(data)
        for (const [name, value] of Object.entries(fit.variances)) {
          // Central differences of a criterion near 100 with steps of 1e-4: errors near 1e-7.
          if (value > 0) expect(Math.abs(denseSlope(data, fit.variances, name))).toBeLessThan(2e-6)
          else {
            const moved = denseModel(data, { ...fit.variances, [name]: 1e-4 }).criterion()
            expect(moved).toBeGreaterThan(fit.remlCriterion)
          }
        }
      }),
      RUNS,
    )
  })

  it('are where criterion and penalty balance under priors', () => {
    const prior = { kind: 'gamma-sd', shape: 2.5, rate: 3 } as const
    const variancePriors = { outer: prior, inner: prior, crossed: prior, residual: prior }
    fc.assert(
      fc.property(draws, (draw) => {
        const data = randomData(draw)
        const fit = fitMixedModel(data, { variancePriors })
        for (const [name, value] of Object.entries(fit.variances)) {
          // −2·log p(sd) by the log of the variance: rate·sd − (shape − 1).
          const penalty = prior.rate * Math.sqrt(value) - (prior.shape - 1)
          expect(Math.abs(denseSlope(data, fit.variances, name) + penalty)).toBeLessThan(2e-6)
        }
      }),
      RUNS,
    )
  })

  it('do not depend on the order of the rows, nor does anything else', () => {
    fc.assert(
      fc.property(draws, fc.nat(1e9), (draw, seed) => {
        const data = randomData(draw)
        const next = uniforms(seed)
        const order = [...data.y.keys()].map((row) => ({ row, key: next() }))
        const rows = order.sort((a, b) => a.key - b.key).map(({ row }) => row)
        const fit = fitMixedModel(data)
        const turned = fitMixedModel(reordered(data, rows))
        for (const [name, value] of Object.entries(fit.variances)) close(turned.variances[name]!, value)
        close(turned.remlCriterion, fit.remlCriterion)
        const [one, two] = [fit.leaveOneOut(), turned.leaveOneOut()]
        rows.forEach((row, i) => {
          close(two[i]!, one[row]!)
        })
      }),
      RUNS,
    )
  })

  it('do not depend on the start', () => {
    fc.assert(
      fc.property(draws, variances, (draw, start) => {
        const data = randomData(draw)
        const fit = fitMixedModel(data)
        const other = fitMixedModel(data, { start })
        expect(Math.abs(other.remlCriterion - fit.remlCriterion)).toBeLessThan(1e-7)
      }),
      RUNS,
    )
  })
})
