import { describe, expect, it } from 'vitest'
import { OutOfRange } from '../../../../src/engine/errors.js'
import { fitMixedModel } from '../../../../src/engine/statistics/mixed-model/fit.js'
import type { FitOptions, MixedModelData, VariancePrior } from '../../../../src/engine/statistics/mixed-model/types.js'
import { termOf } from './fixture-data.js'
import { uniforms } from './random-data.js'

/** y ~ 1 + (1 | group). */
function grouped(y: readonly number[], groups: readonly string[], more: Partial<MixedModelData> = {}): MixedModelData {
  return {
    y: Float64Array.from(y),
    fixedNames: ['intercept'],
    fixed: [new Float64Array(y.length).fill(1)],
    random: [
      termOf(
        'group',
        groups.map((group) => ({ [group]: 1 })),
      ),
    ],
    errorVariance: new Float64Array(y.length),
    ...more,
  }
}

const prior: VariancePrior = { kind: 'gamma-sd', shape: 2, rate: 1 }
const priors: FitOptions = { variancePriors: { group: prior, residual: prior } }
const six = ['a', 'a', 'b', 'b', 'c', 'c']

describe('balanced nested classification', () => {
  /** Batches of 3 parts, 2 measurements each, with clear effects. */
  const batches = 6
  const draw = uniforms(41)
  const cells = Array.from({ length: batches }, () => {
    const batch = 10 * draw()
    return Array.from({ length: 3 }, () => {
      const part = batch + 4 * draw()
      return [part + draw(), part + draw()]
    })
  })
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length
  const squares = (values: readonly number[]): number =>
    values.reduce((sum, value) => sum + (value - mean(values)) ** 2, 0)

  // Searle, Casella, McCulloch, Variance Components (1992), 4.6: for balanced data with positive solutions REML gives
  // the estimates of the analysis of variance, (MS_batch − MS_part)/6, (MS_part − MS_within)/2 and MS_within here.
  it('gives the estimates of the analysis of variance', () => {
    const partMeans = cells.map((parts) => parts.map(mean))
    const msBatch = (6 * squares(partMeans.map(mean))) / (batches - 1)
    const msPart = (2 * partMeans.reduce((sum, means) => sum + squares(means), 0)) / (batches * 2)
    const msWithin = cells.flat().reduce((sum, pair) => sum + squares(pair), 0) / (batches * 3)
    const rows = cells.flatMap((parts, b) => parts.flatMap((pair, p) => pair.map((y) => ({ y, b, p }))))
    const fit = fitMixedModel({
      ...grouped(
        rows.map(({ y }) => y),
        rows.map(() => 'all'),
      ),
      random: [
        termOf(
          'batch',
          rows.map(({ b }) => ({ [`${b}`]: 1 })),
        ),
        termOf(
          'part',
          rows.map(({ b, p }) => ({ [`${b}:${p}`]: 1 })),
        ),
      ],
    })
    expect(fit.variances.residual).toBeCloseTo(msWithin, 9)
    expect(fit.variances.part).toBeCloseTo((msPart - msWithin) / 2, 9)
    expect(fit.variances.batch).toBeCloseTo((msBatch - msPart) / 6, 9)
  })
})

describe('data that no variance can be told from', () => {
  it.each([
    ['one level', grouped([1, 3, 2, 7], ['a', 'a', 'a', 'a']), 'variance of group'],
    ['one row a level', grouped([1, 3, 2, 7], ['a', 'b', 'c', 'd']), 'variance of residual'],
    ['one row', grouped([1], ['a']), 'number of rows'],
    ['y the same throughout', grouped([3, 3, 3, 3, 3, 3], six), 'mean square about the fixed effects'],
    ['levels that fit y exactly', grouped([1, 1, 2, 2, 5, 5], six), 'residual variance'],
  ])('is refused without priors: %s', (_, data, quantity) => {
    expect(() => fitMixedModel(data)).toThrow(OutOfRange)
    expect(() => fitMixedModel(data)).toThrow(quantity)
  })

  it.each([
    ['one level', grouped([1, 3, 2, 7], ['a', 'a', 'a', 'a'])],
    ['one row a level', grouped([1, 3, 2, 7], ['a', 'b', 'c', 'd'])],
    ['one row', grouped([1], ['a'])],
    [
      'y the same throughout, with errors',
      grouped([3, 3, 3, 3, 3, 3], six, { errorVariance: new Float64Array(6).fill(0.1) }),
    ],
  ])('gets finite, positive variances with priors: %s', (_, data) => {
    const fit = fitMixedModel(data, priors)
    const values = [fit.remlCriterion, ...fit.leaveOneOut(), ...fit.fixed.flatMap(({ estimate, se }) => [estimate, se])]
    for (const value of values) expect(Number.isFinite(value)).toBe(true)
    for (const value of Object.values(fit.variances)) expect(value > 0 && value < 100).toBe(true)
  })

  // A prior without rate pulls upwards, and rows of one level say nothing of the group's variance.
  it('is refused where a prior pulls without end', () => {
    const endless: FitOptions = { variancePriors: { group: { kind: 'gamma-sd', shape: 2, rate: 0 } } }
    expect(() => fitMixedModel(grouped([1, 3, 2, 7], ['a', 'a', 'a', 'a']), endless)).toThrow('neither rows nor priors')
  })

  // No information at all: the mode of the prior itself, sd = (shape − 1)/rate.
  it('leaves the prior as it is where one row says nothing', () => {
    const fit = fitMixedModel(grouped([1], ['a']), priors)
    expect(fit.variances.group).toBeCloseTo(1, 9)
    expect(fit.variances.residual).toBeCloseTo(1, 9)
  })

  it('finds zero variances where y varies less than its errors', () => {
    const fit = fitMixedModel(grouped([3, 3, 3, 3, 3, 3], six, { errorVariance: new Float64Array(6).fill(0.1) }))
    expect(fit.variances).toEqual({ group: 0, residual: 0 })
  })
})

describe('input that cannot be used', () => {
  const good = grouped([1, 3, 2, 7, 3, 4], six)
  const column = (...values: number[]): Float64Array => Float64Array.from(values)
  it.each<[string, MixedModelData, FitOptions, string]>([
    ['no rows', grouped([], []), {}, 'rows'],
    ['y missing', grouped([1, Number.NaN, 2, 7, 3, 4], six), {}, 'y of row 1'],
    ['a negative error variance', { ...good, errorVariance: column(0, 0, -1, 0, 0, 0) }, {}, 'error variance of row 2'],
    ['a column too short', { ...good, fixed: [column(1, 1)] }, {}, 'length of fixed effect "intercept"'],
    [
      'a column that others make up',
      {
        ...good,
        fixedNames: ['intercept', 'old', 'new'],
        fixed: [good.fixed[0]!, column(1, 1, 1, 0, 0, 0), column(0, 0, 0, 1, 1, 1)],
      },
      {},
      'fixed effect "new"',
    ],
    [
      'errors that cannot be',
      { ...good, errorCovariance: [{ row: 0, other: 1, covariance: 1e3 }] },
      {},
      'covariance of y',
    ],
    ['an unknown variance', good, { start: { other: 1 } }, 'name of a variance'],
    [
      'a prior with its mode at zero',
      good,
      { variancePriors: { group: { ...prior, shape: 1 } } },
      'prior shape of group',
    ],
    [
      'a level that does not exist',
      { ...good, random: [{ name: 'group', levels: ['a'], membership: good.random[0]!.membership }] },
      {},
      'level of group in row 2',
    ],
  ])('is refused by name: %s', (_, data, options, quantity) => {
    expect(() => fitMixedModel(data, options)).toThrow(OutOfRange)
    expect(() => fitMixedModel(data, options)).toThrow(quantity)
  })

  it('is refused in predictions and added rows too', () => {
    const fit = fitMixedModel(good, priors)
    expect(() => fit.predict({ fixed: [], random: {} })).toThrow('number of fixed effects')
    expect(() => fit.predict({ fixed: [1], random: { other: [] } })).toThrow('random term')
    expect(() => fit.predict({ fixed: [1], random: {} }, [6])).toThrow('row left out')
    expect(() => fit.withRows([{ y: 1, target: { fixed: [1], random: { other: [] } }, errorVariance: 0 }])).toThrow(
      OutOfRange,
    )
    expect(() => fit.withRows([{ y: Number.NaN, target: { fixed: [1], random: {} }, errorVariance: 0 }])).toThrow(
      'y of row 6',
    )
  })
})

describe('scale and place of y', () => {
  const y = [1, 3, 20, 27, -40, -43]
  const fit = fitMixedModel(grouped(y, six))
  it.each([1e-9, 1e9])('a factor of %d multiplies variances by its square', (factor) => {
    const scaled = fitMixedModel(
      grouped(
        y.map((value) => value * factor),
        six,
      ),
    )
    for (const [name, value] of Object.entries(fit.variances)) {
      expect(scaled.variances[name]! / (factor * factor * value)).toBeCloseTo(1, 9)
    }
  })
  it('a shift moves the intercept alone', () => {
    const moved = fitMixedModel(
      grouped(
        y.map((value) => value + 1e7),
        six,
      ),
    )
    expect(moved.fixed[0]!.estimate - 1e7).toBeCloseTo(fit.fixed[0]!.estimate, 6)
    expect(moved.variances.group! / fit.variances.group!).toBeCloseTo(1, 8)
  })
})

describe('rows left out', () => {
  const indicator = Float64Array.of(0, 0, 0, 0, 0, 1)
  const data = grouped([1, 3, 2, 7, 3, 4], six, {
    fixedNames: ['intercept', 'last'],
    fixed: [new Float64Array(6).fill(1), indicator],
  })
  const fit = fitMixedModel(data, { heldVariances: { group: 1, residual: 1 } })

  it('give no prediction of a fixed effect that rests on them alone', () => {
    expect(() => fit.predict({ fixed: [1, 1], random: {} }, [5])).toThrow(OutOfRange)
    expect(fit.leaveOneOut()[5]).toBe(0)
  })
  it('change nothing in predictions that they do not bear on', () => {
    const target = { fixed: [1, 0], random: { group: [{ level: 'c', weight: 1 }] } }
    expect(fit.predict(target, [5]).mean).toBeCloseTo(fit.predict(target).mean, 12)
    expect(fit.predict(target, [5]).variance).toBeCloseTo(fit.predict(target).variance, 12)
  })
})
