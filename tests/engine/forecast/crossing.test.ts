import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { crossingExposure, crossingProbability } from '../../../src/engine/forecast/crossing.js'
import { nextHaulOut, recommendedDay } from '../../../src/engine/forecast/haul-out-choice.js'

const inputs = fc.record({
  remaining: fc.record({
    mean: fc.double({ min: -300, max: 1500, noNaN: true }),
    sd: fc.double({ min: 0, max: 120, noNaN: true }),
  }),
  logRate: fc.record({
    mean: fc.double({ min: -2, max: 2, noNaN: true }),
    sd: fc.double({ min: 0.05, max: 1.2, noNaN: true }),
  }),
})

describe('the crossing of the threshold', () => {
  it('becomes likelier with exposure, before and after the last weighing', () => {
    const exposure = fc.double({ min: -3000, max: 3000, noNaN: true })
    fc.assert(
      fc.property(inputs, exposure, exposure, (input, a, b) => {
        const [sooner, later] = [Math.min(a, b), Math.max(a, b)]
        expect(crossingProbability(input, sooner)).toBeLessThanOrEqual(crossingProbability(input, later) + 1e-12)
      }),
    )
  })

  it('has quantiles in order', () => {
    fc.assert(
      fc.property(inputs, (input) => {
        const days = [0.05, 0.1, 0.5, 0.9, 0.95].map((p) => crossingExposure(input, p))
        // Each is found to a ten thousand millionth of a day.
        for (const [i, later] of days.slice(1).entries()) expect(later).toBeGreaterThanOrEqual(days[i]! - 1e-9)
      }),
      { numRuns: 50 },
    )
  })

  // With the remaining mass exact, u/K is lognormal: its quantile at p is u·exp(−μ + z(p)·σ), z(0.95) = 1.6448536269514722.
  it('is lognormal where the remaining mass is exact', () => {
    const input = { remaining: { mean: 400, sd: 0 }, logRate: { mean: Math.log(1.6), sd: 0.3 } }
    expect(crossingExposure(input, 0.5)).toBeCloseTo(250, 6)
    expect(crossingExposure(input, 0.95)).toBeCloseTo(250 * Math.exp(0.3 * 1.6448536269514722), 6)
  })

  it('lies behind where the threshold was passed before the last weighing', () => {
    const input = { remaining: { mean: -80, sd: 2 }, logRate: { mean: Math.log(1.6), sd: 0.3 } }
    expect(crossingExposure(input, 0.5)).toBeCloseTo(-50, 0)
    expect(crossingProbability(input, 0)).toBeGreaterThan(0.999)
  })

  it('is never reached by an anode that does nothing', () => {
    const input = { remaining: { mean: 400, sd: 1 }, logRate: { mean: -30, sd: 0.3 } }
    expect(crossingExposure(input, 0.05)).toBe(Number.POSITIVE_INFINITY)
  })
})

describe('the choice of a haul-out', () => {
  const planned = (...days: number[]) => days.map((on) => ({ on, relaunchedOn: null, planned: true }))
  const past = (on: number) => ({ on, relaunchedOn: null, planned: false })

  it('recommends the last planned lift before the early date', () => {
    expect(recommendedDay(planned(110, 150, 220), 100, 200)).toBe(150)
    expect(recommendedDay(planned(110, 200), 100, 200)).toBe(200)
  })

  it('recommends the early date itself where no lift is planned before it, today where that lies behind', () => {
    expect(recommendedDay(planned(220), 100, 200)).toBe(200)
    expect(recommendedDay([], 100, 90)).toBe(100)
    expect(recommendedDay(planned(110), 100, null)).toBeNull()
  })

  it('takes the next planned lift, or a year after the last one and says so', () => {
    expect(nextHaulOut([past(50), ...planned(300, 400)], 100)).toEqual({ on: 300, planned: true })
    expect(nextHaulOut([past(50)], 100)).toEqual({ on: 415, planned: false })
    expect(nextHaulOut([past(50)], 500)).toEqual({ on: 865, planned: false })
    expect(nextHaulOut([], 100)).toEqual({ on: 465, planned: false })
  })
})
