import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { fitMixedModel } from '../../../../src/engine/statistics/mixed-model/fit.js'
import type { MixedModelData } from '../../../../src/engine/statistics/mixed-model/types.js'
import { randomData } from './random-data.js'

const PARTS = { multipleOuter: true, errorCovariance: false, residualScale: true, fixedPrior: false }
const heldVariances = { outer: 0.4, inner: 0.2, crossed: 0.3, residual: 0.15 }
const FAR_ROWS = 12

/** The data with rows of an outer level of their own that share no crossed level with the others: a boat in another harbour. */
function withFarAway(data: MixedModelData, y: number): MixedModelData {
  const added = <T>(value: T) => Array.from({ length: FAR_ROWS }, () => value)
  const own: Readonly<Record<string, string>> = { outer: 'far', inner: 'far 1', crossed: 'far berth' }
  return {
    ...data,
    y: Float64Array.from([...data.y, ...added(y)]),
    fixed: data.fixed.map((column, j) => Float64Array.from([...column, ...added(j === 0 ? 1 : 0.5 * j)])),
    random: data.random.map((term) => ({
      ...term,
      levels: [...term.levels, own[term.name]!],
      membership: [...term.membership, ...added([{ level: term.levels.length, weight: 1 }])],
    })),
    errorVariance: Float64Array.from([...data.errorVariance!, ...added(0.05)]),
    residualScale: Float64Array.from([...data.residualScale!, ...added(1)]),
  }
}

/** Fixed effects as good as known. */
const held = (data: MixedModelData): MixedModelData => ({
  ...data,
  fixedPrior: { mean: [4, 0.8, -0.1], precision: [1e12, 1e12, 1e12] },
})

describe('rows far away, that share no level', () => {
  it('change the effects of the others only through the fixed effects and the variances', () => {
    fc.assert(
      fc.property(fc.nat(1e9), fc.double({ min: -20, max: 20, noNaN: true }), (seed, y) => {
        const data = randomData({ seed, rows: 40, parts: PARTS })
        const alone = fitMixedModel(held(data), { heldVariances })
        const beside = fitMixedModel(held(withFarAway(data, y)), { heldVariances })
        for (const [term, effects] of Object.entries(alone.effects)) {
          for (const { level, mode, predictionSd } of effects) {
            const same = beside.effects[term]!.find((each) => each.level === level)!
            expect(same.mode).toBeCloseTo(mode, 6)
            expect(same.predictionSd).toBeCloseTo(predictionSd, 6)
          }
        }
      }),
      { seed: 20260612, numRuns: 30 },
    )
  })

  it('do change them through the fixed effects', () => {
    const data = randomData({ seed: 3, rows: 40, parts: PARTS })
    const [alone, beside] = [data, withFarAway(data, 20)].map((each) => fitMixedModel(each, { heldVariances }))
    const mode = (fit: typeof alone) => fit!.effects.outer!.find(({ level }) => level === 'o0')!.mode
    expect(Math.abs(mode(beside) - mode(alone))).toBeGreaterThan(1e-3)
  })
})
