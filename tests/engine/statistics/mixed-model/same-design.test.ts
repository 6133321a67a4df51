import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { fitMixedModel } from '../../../../src/engine/statistics/mixed-model/fit.js'
import type { MixedModelData } from '../../../../src/engine/statistics/mixed-model/types.js'
import { randomData, reordered, targetOf } from './random-data.js'

const PARTS = { multipleOuter: true, errorCovariance: true, residualScale: true, fixedPrior: true }
const RUNS = { seed: 20260402, numRuns: 20 }
const heldVariances = { outer: 0.4, inner: 0.2, crossed: 0.3, residual: 0.15 }

/** The same columns and terms with another y and other errors. */
function otherValues(data: MixedModelData): MixedModelData {
  return {
    ...data,
    y: data.y.map((value, row) => value * 0.9 + (row % 5) / 10),
    errorVariance: data.errorVariance.map((error) => error * 2),
    errorCovariance: data.errorCovariance!.map((link) => ({ ...link, covariance: link.covariance * 1.5 })),
    residualScale: data.residualScale!.map((scale) => 2 / scale),
  }
}

describe('a fit of the same design as another', () => {
  it('is the one that it would be on its own, to the last bit', () => {
    fc.assert(
      fc.property(fc.nat(1e9), (seed) => {
        const data = randomData({ seed, rows: 40, parts: PARTS })
        const other = otherValues(data)
        const like = fitMixedModel(data, { heldVariances })
        const [again, alone] = [fitMixedModel(other, { heldVariances, like }), fitMixedModel(other, { heldVariances })]
        expect(again.remlCriterion).toBe(alone.remlCriterion)
        expect(again.effects).toEqual(alone.effects)
        expect(again.leaveOneOut()).toEqual(alone.leaveOneOut())
        // What the first one found stays as it was.
        expect(like.predict(targetOf(data, 3))).toEqual(
          fitMixedModel(data, { heldVariances }).predict(targetOf(data, 3)),
        )
      }),
      RUNS,
    )
  })

  it('is cut afresh where the design is another after all', () => {
    const data = randomData({ seed: 5, rows: 40, parts: PARTS })
    const like = fitMixedModel(data, { heldVariances })
    const turned = reordered(data, [...data.y.keys()].reverse())
    expect(fitMixedModel(turned, { heldVariances, like }).remlCriterion).toBeCloseTo(like.remlCriterion, 9)
    const unlinked = { ...data, errorCovariance: [] }
    const alone = fitMixedModel(unlinked, { heldVariances })
    expect(fitMixedModel(unlinked, { heldVariances, like }).remlCriterion).toBe(alone.remlCriterion)
  })
})

describe('projected rows', () => {
  // Henderson's equations: y − Xβ − Zb = R·P·y, R the covariance of residual and known errors.
  it('times the covariance of the errors are what the effects leave of y', () => {
    fc.assert(
      fc.property(fc.nat(1e9), (seed) => {
        const data = randomData({ seed, rows: 40, parts: PARTS })
        const fit = fitMixedModel(data, { heldVariances })
        const { py } = fit.projected()
        const left = data.y.map((value, row) => value - fit.predict(targetOf(data, row)).mean)
        const spread = py.map(
          (value, row) => value * (data.errorVariance[row]! + heldVariances.residual * data.residualScale![row]!),
        )
        for (const { row, other, covariance } of data.errorCovariance!) {
          spread[row]! += covariance * py[other]!
          spread[other]! += covariance * py[row]!
        }
        left.forEach((value, row) => {
          expect(Math.abs(spread[row]! - value)).toBeLessThan(1e-9)
        })
      }),
      RUNS,
    )
  })

  // tr(P·V) = n less the number of fixed effects without a prior; here V has no term but the residual.
  it('have a diagonal that adds up to the degrees of freedom', () => {
    const data = { ...randomData({ seed: 3, rows: 40, parts: { ...PARTS, fixedPrior: false } }), random: [] }
    const { residualScale: _, errorCovariance: __, ...plain } = data
    const fit = fitMixedModel({ ...plain, errorVariance: new Float64Array(40) }, { heldVariances: { residual: 0.25 } })
    const trace = fit.projected().diagonal.reduce((sum, value) => sum + value, 0)
    expect(trace * 0.25).toBeCloseTo(40 - 3, 9)
  })
})

describe('tolerance', () => {
  // The search judges its error by the pace of its steps: right to an order of magnitude, hence 30 times.
  it('says roughly how far the variances are from where a finer search ends', () => {
    fc.assert(
      fc.property(fc.nat(1e9), (seed) => {
        const data = randomData({ seed, rows: 60, parts: PARTS })
        const prior = { kind: 'gamma-sd', shape: 2.5, rate: 3 } as const
        const variancePriors = { outer: prior, inner: prior, crossed: prior, residual: prior }
        const fine = fitMixedModel(data, { variancePriors })
        const coarse = fitMixedModel(data, { variancePriors, tolerance: 1e-3 })
        expect(coarse.iterations).toBeLessThanOrEqual(fine.iterations)
        for (const [name, value] of Object.entries(fine.variances)) {
          expect(Math.abs(coarse.variances[name]! / value - 1)).toBeLessThan(3e-2)
        }
      }),
      RUNS,
    )
  })

  it('is refused where it is none', () => {
    const data = randomData({ seed: 5, rows: 40, parts: PARTS })
    expect(() => fitMixedModel(data, { tolerance: 0 })).toThrow('tolerance of the variances')
  })
})
