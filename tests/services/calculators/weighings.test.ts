import { describe, expect, it } from 'vitest'
import { calculatorNamed } from '../../../src/services/calculators/registry.js'
import { Invalid } from '../../../src/services/errors.js'
import exponential from '../../engine/statistics/fixtures/depletion-law-exponential.json' with { type: 'json' }
import proportions from '../../engine/statistics/fixtures/proportions.json' with { type: 'json' }
import robust from '../../engine/statistics/fixtures/robust-line.json' with { type: 'json' }
import crossing from '../../engine/statistics/fixtures/weighted-line-crossing.json' with { type: 'json' }
import unbounded from '../../engine/statistics/fixtures/weighted-line-crossing-unbounded.json' with { type: 'json' }

const answer = (name: string, input: unknown) => calculatorNamed(name).calculate(input)

const refusal = (name: string, input: unknown) => {
  try {
    calculatorNamed(name).calculate(input)
  } catch (error) {
    if (error instanceof Invalid) return error.errors.map(({ pointer }) => pointer)
    throw error
  }
  throw new Error(`${name} accepted ${JSON.stringify(input)}`)
}

describe('depletion-law', () => {
  // Source: R 4.2.2 on invented masses of an exponential law (`source` in the file).
  it('answers as a reference program does', () => {
    const masses = exponential.dataset.rows.map(([days, netMassG]) => ({ days, netMassG }))
    const { laws, free } = answer('depletion-law', { masses, fractionLeft: 0.5 })
    const [, , byMass] = exponential.results.fixedQ
    expect(laws).toHaveLength(3)
    expect(Reflect.get(Object(laws), 2)).toMatchObject({
      exponent: 1,
      m0G: expect.closeTo(byMass!.m0, 6),
      kGPerDay: expect.closeTo(byMass!.k, 8),
      aic: expect.closeTo(byMass!.aic, 8),
      crossing: { days: expect.closeTo(byMass!.crossing.days, 6), sd: expect.closeTo(byMass!.crossing.sdDelta, 7) },
      lackOfFit: null,
    })
    expect(free).toMatchObject({ exponent: expect.closeTo(exponential.results.freePower.impliedQ, 6) })
    const weights = (laws as { weight: number }[]).map(({ weight }) => weight)
    expect(weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 12)
    // exp(ΔAIC/2), the definition of the weights.
    const [constant] = exponential.results.fixedQ
    expect(Math.log(weights[2]! / weights[0]!)).toBeCloseTo((constant!.aic - byMass!.aic) / 2, 6)
  })

  it('tests the laws against repeats where days are repeated', () => {
    const masses = [0, 0, 100, 100, 200, 200].map((days, i) => ({ days, netMassG: 1000 - days + (i % 2) * 4 }))
    const { laws } = answer('depletion-law', { masses })
    expect(laws).toMatchObject([{ lackOfFit: { lackOfFitFreedom: 1, pureErrorFreedom: 3 } }, {}, {}])
  })

  it('refuses what has no law at its field', () => {
    const masses = [1000, 900, 820].map((netMassG, i) => ({ days: 90 * i, netMassG }))
    expect(refusal('depletion-law', { masses: [...masses].reverse().map((m, i) => ({ ...m, days: i })) })).toEqual([
      '#/masses',
    ])
    expect(refusal('depletion-law', { masses: masses.map((m) => ({ ...m, days: 3 })) })).toEqual(['#/masses'])
    expect(refusal('depletion-law', { masses, fractionLeft: 0 })).toEqual(['#/fractionLeft'])
  })

  it('says that three masses do not tell an exponent', () => {
    const masses = [1000, 900, 820].map((netMassG, i) => ({ days: 90 * i, netMassG }))
    expect(answer('depletion-law', { masses }).free).toBeNull()
  })
})

describe('mass-line', () => {
  // Source: R 4.2.2 with weights and Fieller's closed form (`tool` and `model` in the files).
  it.each([crossing, unbounded])('answers as the reference $case', ({ dataset, model, results }) => {
    const [expected] = results.levels
    const line = answer('mass-line', {
      masses: dataset.rows.map(([days, massG, sdG]) => ({ days, massG, sdG })),
      dueMassG: model.threshold,
      level: expected!.level,
      newSdG: model.newWeighingSd,
    })
    const limits = (truth: { kind: string; lower: number; upper: number }) => ({
      kind: truth.kind === 'bounded' ? 'bounded' : 'outside',
      lower: expect.closeTo(truth.lower, 6),
      upper: expect.closeTo(truth.upper, 6),
    })
    expect(line.leastSquares).toMatchObject({
      interceptG: expect.closeTo(results.intercept, 7),
      slopeGPerDay: expect.closeTo(results.slope, 9),
      crossing: expect.closeTo(results.crossing, 6),
      crossingSd: expect.closeTo(results.crossingSdDelta, 6),
      limits: limits(expected!.fiellerMeanCrossing),
      newWeighingLimits: limits(expected!.inversePredictionOneNewWeighing),
    })
  })

  // Source: R 4.2.2 with MASS, SciPy (`tool` in the file).
  it('has the robust lines of a reference program', () => {
    const masses = robust.dataset.rows.map(([days, massG]) => ({ days, massG }))
    const lines = answer('mass-line', { masses, dueMassG: 900 })
    const { huber, bisquare, theilSen, siegelRepeatedMedians } = robust.results
    expect(lines).toMatchObject({
      huber: { slopeGPerDay: expect.closeTo(huber.slope, 6), scaleG: expect.closeTo(huber.scaleMad, 4) },
      bisquare: { slopeGPerDay: expect.closeTo(bisquare.slope, 6) },
      theilSen: {
        slopeGPerDay: expect.closeTo(theilSen.slope, 10),
        slopeLimits: {
          lower: expect.closeTo(theilSen.interval95[0]!, 10),
          upper: expect.closeTo(theilSen.interval95[1]!, 10),
        },
      },
      repeatedMedians: { slopeGPerDay: expect.closeTo(siegelRepeatedMedians.slope, 10) },
    })
  })

  it('has no day for a level line, and refuses masses of one day', () => {
    const level = [0, 10, 20].map((days) => ({ days, massG: 500 }))
    expect(answer('mass-line', { masses: level, dueMassG: 400 })).toMatchObject({
      leastSquares: { crossing: null, crossingSd: null, limits: null },
      theilSen: { crossing: null },
    })
    const oneDay = level.map((mass) => ({ ...mass, days: 3 }))
    expect(refusal('mass-line', { masses: oneDay, dueMassG: 400 })).toEqual(['#/masses'])
    expect(refusal('mass-line', { masses: level, dueMassG: 400, level: 1 })).toEqual(['#/level'])
  })
})

describe('shares', () => {
  // Source: R 4.2.2 (`tool` and `model` in the file).
  it('answers as a reference program does', () => {
    const { oneSample, twoSample } = proportions.results
    for (const row of oneSample.rows) {
      const of = (column: string) => row[oneSample.columns.indexOf(column)]!
      expect(answer('shares', { successes: of('x'), trials: of('n'), level: of('level') })).toMatchObject({
        wilson: { low: expect.closeTo(of('wilsonLower'), 10), high: expect.closeTo(of('wilsonUpper'), 10) },
        exact: {
          low: expect.closeTo(of('clopperPearsonLower'), 10),
          high: expect.closeTo(of('clopperPearsonUpper'), 10),
        },
        difference: null,
      })
    }
    for (const row of twoSample.rows) {
      const of = (column: string) => row[twoSample.columns.indexOf(column)]!
      const other = { successes: of('x2'), trials: of('n2') }
      expect(answer('shares', { successes: of('x1'), trials: of('n1'), other })).toMatchObject({
        difference: {
          share: expect.closeTo(of('difference'), 12),
          low: expect.closeTo(of('newcombeLower'), 10),
          high: expect.closeTo(of('newcombeUpper'), 10),
          probability: expect.closeTo(of('pFisherTwoSided'), 10),
        },
      })
    }
  })

  it('refuses counts that cannot be at their fields', () => {
    expect(refusal('shares', { successes: 3, trials: 2 })).toEqual(['#/successes'])
    expect(refusal('shares', { successes: 1, trials: 0 })).toEqual(['#/trials'])
    expect(refusal('shares', { successes: 1, trials: 2, level: 0 })).toEqual(['#/level'])
  })
})
