import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { expectedVariances } from '../../../src/engine/rates/expected-variances.js'
import { noiseScale } from '../../../src/engine/rates/noise-memory.js'
import { priorVariances } from '../../../src/engine/rates/rate-model.js'
import { VARIANCE_PRIORS } from '../../../src/engine/rates/rate-priors.js'
import { spentValue } from '../../../src/engine/rates/spent-rows.js'
import { consumedWhere } from '../../../src/engine/rates/water-shares.js'
import { fitMixedModel } from '../../../src/engine/statistics/mixed-model/fit.js'
import type { MixedModelData } from '../../../src/engine/statistics/mixed-model/types.js'
import { Uniform } from '../simulated-fleet.js'

const DAYS_PER_YEAR = 365.25

describe('the noise of an interval', () => {
  it('is that of a year over a year, and never more over longer', () => {
    expect(noiseScale(DAYS_PER_YEAR)).toBeCloseTo(1, 12)
    const days = fc.double({ min: 0, max: 5000, noNaN: true })
    fc.assert(
      fc.property(days, days, (a, b) => {
        expect(noiseScale(Math.max(a, b))).toBeLessThanOrEqual(noiseScale(Math.min(a, b)) + 1e-12)
      }),
    )
  })

  // A process of memory τ averaged over E has variance (2/E²)·∫₀ᴱ (E − t)·e^(−t/τ) dt: by the midpoint rule.
  it('evens out as the mean of a process that forgets does', () => {
    const averaged = (exposure: number) => {
      const steps = 20_000
      let sum = 0
      for (let step = 0; step < steps; step++) {
        const t = ((step + 0.5) * exposure) / steps
        sum += (exposure - t) * Math.exp(-t / (DAYS_PER_YEAR / 6))
      }
      return (2 * sum) / (steps * exposure)
    }
    const year = averaged(DAYS_PER_YEAR)
    for (const exposure of [0.5, 30, 200, 900])
      expect(noiseScale(exposure)).toBeCloseTo(0.5 + (0.5 * averaged(exposure)) / year, 5)
  })
})

describe('the variances that are predicted with', () => {
  /** Boats of two anodes each, their log rates with a boat's effect of standard deviation 0.3. */
  function fitOf(boats: number) {
    const random = new Uniform(17)
    const rows = 2 * boats
    const effects = Array.from({ length: boats }, () => 0.3 * random.normal())
    const one = new Float64Array(rows).fill(1)
    const data: MixedModelData = {
      y: Float64Array.from(one, (_, row) => effects[row >> 1]! + 0.15 * random.normal()),
      fixedNames: ['intercept'],
      fixed: [one],
      random: [
        {
          name: 'boat',
          levels: effects.map((_, boat) => `B${boat}`),
          membership: Array.from(one, (_, row) => [{ level: row >> 1, weight: 1 }]),
        },
      ],
      errorVariance: new Float64Array(rows),
    }
    const { boat, residual } = VARIANCE_PRIORS
    return fitMixedModel(data, { variancePriors: { boat: boat!, residual: residual! } })
  }
  const widening = (boats: number) => {
    const fit = fitOf(boats)
    return Math.sqrt(expectedVariances(fit).boat! / fit.variances.boat!)
  }

  it('are those of REML where there are many boats, and larger where there are few', () => {
    expect(widening(400)).toBeGreaterThan(1)
    expect(widening(400)).toBeLessThan(1.01)
    expect(widening(4)).toBeGreaterThan(widening(12))
    expect(widening(12)).toBeGreaterThan(widening(50))
  })

  // A gamma density of shape a and mode m has the mean m·a/(a − 1).
  it('are the means of their priors where nothing was seen', () => {
    const nothing = fitMixedModel(
      {
        y: Float64Array.of(0),
        fixedNames: ['intercept'],
        fixed: [Float64Array.of(1)],
        fixedPrior: { mean: [0], precision: [1] },
        random: [{ name: 'boat', levels: ['B'], membership: [[{ level: 0, weight: 1 }]] }],
        errorVariance: Float64Array.of(1e9),
      },
      { heldVariances: { boat: priorVariances().boat!, residual: priorVariances().residual! } },
    )
    const prior = VARIANCE_PRIORS.boat!
    if (prior.kind === 'flat') throw new Error('the prior is proper')
    expect(Math.sqrt(expectedVariances(nothing).boat!)).toBeCloseTo(prior.shape / prior.rate, 3)
  })
})

describe('an interval at whose end the anode was spent', () => {
  it('says nothing where the rate would have used it up anyway', () => {
    expect(spentValue(0, 600, 500, 10).errorVariance).toBeGreaterThan(1e4)
  })

  it('pulls as an exact loss does where the rate falls far short', () => {
    const [expected, consumed, sd] = [300, 500, 10]
    const { value, errorVariance } = spentValue(0, expected, consumed, sd)
    expect(errorVariance).toBeCloseTo((sd / expected) ** 2, 5)
    expect(value).toBeCloseTo((consumed - expected) / expected, 1)
  })

  it('never pulls a rate down', () => {
    const grams = fc.double({ min: 1, max: 3000, noNaN: true })
    fc.assert(
      fc.property(grams, grams, fc.double({ min: 1, max: 200, noNaN: true }), (expected, consumed, sd) => {
        const { value, errorVariance } = spentValue(0.3, expected, consumed, sd)
        expect(value).toBeGreaterThanOrEqual(0.3)
        expect(errorVariance).toBeGreaterThan(0)
      }),
    )
  })
})

describe('waters and berths of an interval', () => {
  const waters = { sea: 'salt', river: 'fresh', mouth: 'brackish' } as const
  const waterOf = (berth: string) => waters[berth as keyof typeof waters]
  const exposureOf = (byBerth: Record<string, number>, elsewhere = 0) => ({
    days: Object.values(byBerth).reduce((sum, days) => sum + days, elsewhere),
    byBerth: new Map(Object.entries(byBerth)),
    season: { cos: 0, sin: 0 },
  })

  it('count by the days in one water, without mixing', () => {
    const { byWater, byBerth, mixing } = consumedWhere(exposureOf({ sea: 300 }, 100), 'zinc', waterOf)
    expect([...byWater]).toEqual([['salt', 1]])
    expect(byBerth).toEqual([{ level: 'sea', weight: 0.75 }])
    expect(mixing).toBe(0)
  })

  it('count by what is consumed there: a week in the sea for more than a week in the river', () => {
    const { byWater, mixing } = consumedWhere(exposureOf({ sea: 100, river: 300 }), 'aluminium', waterOf)
    expect(byWater.get('salt')!).toBeGreaterThan(0.25)
    expect(byWater.get('salt')! + byWater.get('fresh')!).toBeCloseTo(1, 12)
    // The mean of rates is above the mean of their logs (Jensen), by shares of the days; by those of the consumption it is below.
    expect(mixing).toBeLessThan(0)
  })
})
