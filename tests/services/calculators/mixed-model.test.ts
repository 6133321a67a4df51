import { describe, expect, it } from 'vitest'
import { calculatorNamed } from '../../../src/services/calculators/registry.js'
import { Invalid } from '../../../src/services/errors.js'

const modelOf = (rows: readonly unknown[]) => calculatorNamed('mixed-model').calculate({ rows, priors: 'flat' })

const BATCHES = {
  A: [1545, 1440, 1440, 1520, 1580],
  B: [1540, 1555, 1490, 1560, 1495],
  C: [1595, 1550, 1605, 1510, 1560],
  D: [1445, 1440, 1595, 1465, 1545],
  E: [1595, 1630, 1515, 1635, 1625],
  F: [1520, 1455, 1450, 1480, 1445],
}
const yieldRows = Object.entries(BATCHES).flatMap(([batch, yields]) =>
  yields.map((y) => ({ y, variance: 0, fixed: { intercept: 1 }, random: { batch: { [batch]: 1 } } })),
)

const doubleWeights = (weights: Record<string, number>) =>
  Object.fromEntries(Object.entries(weights).map(([level, weight]) => [level, 2 * weight]))

/** Rows with as many levels in each of two groups. */
const crossedRows = (levels: number) =>
  Array.from({ length: levels }, (_, i) => ({
    y: i % 7,
    fixed: { intercept: 1 },
    random: { a: { [i]: 1 }, b: { [i]: 1 } },
  }))

describe('mixed-model', () => {
  // Davies and Goldsmith, Statistical Methods in Research and Production (4th ed. 1972), table 6.3: 6 batches of 5 yields. In
  // balance the restricted likelihood is solved by the mean squares: within 2451.25, between (11271.5 − 2451.25)/5 = 1764.05.
  // lme4 1.1.31 (R 4.2.2): intercept 1527.5 ± 19.3834, batch E +56.7332, criterion 319.6543.
  it('agrees with the published batches of dyestuff', () => {
    const result = modelOf(yieldRows)
    expect(result).toMatchObject({
      fixed: { intercept: { estimate: expect.closeTo(1527.5, 6), se: expect.closeTo(19.3834121523, 5) } },
      variances: { batch: expect.closeTo(1764.05, 3), residual: expect.closeTo(2451.25, 3) },
      effects: {
        batch: { E: { mode: expect.closeTo(56.733187656, 4) }, F: { mode: expect.closeTo(-44.995286785, 4) } },
      },
      remlCriterion: expect.closeTo(319.6542768422, 6),
    })
  })

  it('takes a fixed column that a row does not name as 0', () => {
    const coded = yieldRows.map((row, index) => ({
      ...row,
      fixed: index % 2 === 0 ? { intercept: 1, odd: 0 } : { intercept: 1, odd: 1 },
    }))
    const sparse = coded.map((row) => (row.fixed.odd === 0 ? { ...row, fixed: { intercept: 1 } } : row))
    expect(modelOf(sparse)).toEqual(modelOf(coded))
  })

  it('reads the weights: twice the weights are a quarter of the variance', () => {
    const doubled = yieldRows.map((row) => ({ ...row, random: { batch: doubleWeights(row.random.batch) } }))
    expect(modelOf(doubled)).toMatchObject({
      variances: { batch: expect.closeTo(1764.05 / 4, 3), residual: expect.closeTo(2451.25, 3) },
      remlCriterion: expect.closeTo(319.6542768422, 6),
    })
  })

  it('does not depend on the order of the rows', () => {
    const [forward, backward] = [modelOf(yieldRows), modelOf([...yieldRows].reverse())]
    expect(backward.remlCriterion).toBeCloseTo(forward.remlCriterion as number, 8)
  })

  it.each([
    [[], '#/rows'],
    [[{ y: 1, fixed: { intercept: 1 } }], '#/rows'],
    [[{ y: 'a', fixed: { intercept: 1 } }], '#/rows/0/y'],
    [[{ y: 1, fixed: { intercept: 'b' } }], '#/rows/0/fixed/intercept'],
    [[{ y: 1, variance: -1, fixed: { intercept: 1 } }], '#/rows/0/variance'],
    [[{ y: 1, fixed: { intercept: 1 }, random: { 'a/b': { c: null } } }], '#/rows/0/random/a~1b/c'],
    [[{ y: 1, fixed: { intercept: 1 }, random: { residual: { c: 1 } } }], '#/rows'],
    [[{ y: 1, fixed: { intercept: 1 }, weight: 2 }], '#/rows/0/weight'],
    [yieldRows.map((row) => ({ ...row, fixed: { intercept: 1, again: 1 } })), '#/rows'],
    [crossedRows(251), '#/rows'],
  ])('refuses bad rows (%#)', (rows, pointer) => {
    const errors = (() => {
      try {
        return modelOf(rows)
      } catch (error) {
        return error instanceof Invalid ? error.errors : error
      }
    })()
    expect(errors).toMatchObject([{ pointer }])
  })
})
