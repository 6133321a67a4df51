import { describe, expect, it } from 'vitest'
import { fitMixedModel } from '../../../../src/engine/statistics/mixed-model/fit.js'
import type { MixedModelData } from '../../../../src/engine/statistics/mixed-model/types.js'
import crossed from '../fixtures/depletion-crossed.json' with { type: 'json' }
import multiple from '../fixtures/depletion-multiple-membership.json' with { type: 'json' }
import dyestuff from '../fixtures/mixed-dyestuff.json' with { type: 'json' }
import dyestuff2 from '../fixtures/mixed-dyestuff2-boundary.json' with { type: 'json' }
import penicillin from '../fixtures/mixed-penicillin.json' with { type: 'json' }
import { depletionModel, interceptModel, type Table } from './fixture-data.js'

/**
 * The references stand at the exact REML optimum (scoring with dense matrices, lme4 agreeing to 1e-14). Variances:
 * what two optimisers can agree on. The rest, given the variances, is linear algebra.
 */
const VARIANCE_TOLERANCE = 1e-5
const CRITERION_TOLERANCE = 1e-7
const GIVEN_VARIANCES_TOLERANCE = 1e-8

function expectClose(value: number, truth: number, tolerance: number): void {
  expect(Math.abs(value - truth)).toBeLessThanOrEqual(tolerance * Math.abs(truth))
}

interface Reference {
  readonly name: string
  readonly data: MixedModelData
  readonly fixed: Table
  readonly variances: Table
  readonly criterion: number
  readonly effects: Readonly<Record<string, Table>>
}

const cases: Reference[] = [
  { name: 'penicillin', data: interceptModel(penicillin.dataset, 'diameter', ['plate', 'sample']), ...penicillin },
  { name: 'dyestuff', data: interceptModel(dyestuff.dataset, 'Yield', ['Batch']), ...dyestuff },
  { name: 'dyestuff2', data: interceptModel(dyestuff2.dataset, 'Yield', ['Batch']), ...dyestuff2 },
  { name: 'depletion, crossed', data: depletionModel(crossed.dataset), ...crossed },
  { name: 'depletion, multiple membership', data: depletionModel(multiple.dataset), ...multiple },
].map(({ name, data, results }) => ({
  name,
  data,
  fixed: results.fixed,
  variances: results.varianceComponents,
  criterion: results.remlCriterion,
  effects: results.blups,
}))

// Source: lme4 1.1-31 and direct REML with dense matrices; `source`, `licence` and `tool` stand in each file.
describe.each(cases)('$name', ({ data, fixed, variances, criterion, effects }) => {
  const fit = fitMixedModel(data)
  const held = fitMixedModel(data, {
    heldVariances: Object.fromEntries(variances.rows.map(([name, variance]) => [String(name), Number(variance)])),
  })

  it('finds the variances and the criterion', () => {
    for (const [name, variance] of variances.rows) {
      expectClose(fit.variances[String(name)]!, Number(variance), VARIANCE_TOLERANCE)
    }
    expect(Math.abs(fit.remlCriterion - criterion)).toBeLessThan(CRITERION_TOLERANCE)
    expect(Math.abs(held.remlCriterion - criterion)).toBeLessThan(GIVEN_VARIANCES_TOLERANCE * Math.abs(criterion))
  })

  it('has the fixed effects and their errors', () => {
    fixed.rows.forEach(([, estimate, se], j) => {
      expectClose(held.fixed[j]!.estimate, Number(estimate), GIVEN_VARIANCES_TOLERANCE)
      expectClose(held.fixed[j]!.se, Number(se), GIVEN_VARIANCES_TOLERANCE)
    })
  })

  it.each(Object.keys(effects))('has the effects of %s', (term) => {
    const { columns, rows } = effects[term]!
    for (const row of rows) {
      const own = held.effects[term]!.find(({ level }) => level === row[0])!
      const values = { mode: own.mode, conditionalSd: own.conditionalSd, predictionErrorSd: own.predictionSd }
      for (const [name, value] of Object.entries(values)) {
        const at = columns.indexOf(name)
        if (at >= 0) expectClose(value, Number(row[at]), GIVEN_VARIANCES_TOLERANCE)
      }
    }
  })
})

describe.each([crossed, multiple])('predictions of $case', ({ dataset, results }) => {
  const data = depletionModel(dataset)
  const fit = fitMixedModel(data, {
    heldVariances: Object.fromEntries(
      results.varianceComponents.rows.map(([name, variance]) => [String(name), Number(variance)]),
    ),
  })
  const targetOfRow = (row: number) => ({
    fixed: data.fixed.map((own) => own[row]!),
    random: Object.fromEntries(
      data.random.map((term) => [
        term.name,
        term.membership[row]!.map(({ level, weight }) => ({ level: term.levels[level]!, weight })),
      ]),
    ),
  })

  it('predicts new intervals, unseen levels included', () => {
    for (const expected of results.predictions.rows) {
      const shares = Object.entries(expected.berthShares).flatMap(([level, weight]) =>
        typeof weight === 'number' ? [{ level, weight }] : [],
      )
      const { mean, variance } = fit.predict({
        fixed: [1, expected.alloy === 'aluminium' ? 1 : 0, expected.alloy === 'magnesium' ? 1 : 0],
        random: { boat: [{ level: expected.boat ?? 'unseen', weight: 1 }], berth: shares },
      })
      expectClose(mean, expected.meanLogRate, GIVEN_VARIANCES_TOLERANCE)
      expectClose(Math.sqrt(variance), expected.sdOfUnderlyingLogRate, GIVEN_VARIANCES_TOLERANCE)
      const predictive = Math.sqrt(variance + fit.variances.residual!)
      expectClose(predictive, expected.predictiveSdOfNewInterval, GIVEN_VARIANCES_TOLERANCE)
    }
  })

  it('standardises each row against the others', () => {
    const standardised = fit.leaveOneOut()
    for (const [row, , , truth] of results.leaveOneOut.rows.rows) {
      expectClose(standardised[row! - 1]!, truth!, GIVEN_VARIANCES_TOLERANCE)
    }
  })

  it('predicts each row as the reference does without it', () => {
    for (const [number, mean, sd] of results.leaveOneOut.rows.rows) {
      const row = number! - 1
      const prediction = fit.predict(targetOfRow(row), [row])
      expectClose(prediction.mean, mean!, GIVEN_VARIANCES_TOLERANCE)
      expectClose(Math.sqrt(prediction.variance + fit.variances.residual!), sd!, GIVEN_VARIANCES_TOLERANCE)
    }
  })
})
