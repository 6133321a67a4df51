import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type FilterStep, filterMasses } from '../../../src/engine/forecast/filtered-mass.js'
import { passedBy } from '../../../src/engine/forecast/past-crossing.js'
import type { MassState } from '../../../src/engine/rates/mass-states.js'

const stateAt = (exposureDays: number, consumption: number, sd: number, spent = false): MassState => ({
  on: exposureDays,
  exposureDays,
  consumption,
  variance: sd ** 2,
  spent,
})
const stepsOf = (states: readonly MassState[], noise = 0.02): FilterStep[] =>
  states.map((state) => ({ state, shift: 0, noise }))

describe('filtered masses', () => {
  // Two normal sources of one number, N(300, (300·0.3)²) by the rate and N(360, 60²) by the eye: means weighed by 1/variance.
  it('weigh a judgement against what the rate led one to expect', () => {
    const rate = { mean: 0, variance: 0.09 }
    const { path } = filterMasses(stepsOf([stateAt(0, 0, 0), stateAt(300, 360, 60)], 0), rate, rate)
    const predicted = 300 ** 2 * 0.09
    const share = predicted / (predicted + 60 ** 2)
    expect(path[1]!.consumption).toBeCloseTo(300 + share * 60, 9)
    expect(path[1]!.variance).toBeCloseTo(predicted * (1 - share), 6)
  })

  // Cov(U, f) after the update is (1 − gain)·g·Var f: whoever saw too much lost takes the rate for too high.
  it('know that mass and rate err together where the mass was judged badly, and not where a scale settled it', () => {
    const rate = { mean: 0, variance: 0.09 }
    const byEye = filterMasses(stepsOf([stateAt(0, 0, 0), stateAt(300, 360, 60)], 0), rate, rate)
    const share = 8100 / (8100 + 3600)
    expect(byEye.covariance).toBeCloseTo((1 - share) * 300 * 0.09, 6)
    const byScale = filterMasses(stepsOf([stateAt(0, 0, 0), stateAt(300, 360, 0.5)], 0), rate, rate)
    expect(byScale.covariance).toBeLessThan(0.01)
  })

  it('let a later scale correct an eye before it', () => {
    const rate = { mean: 0, variance: 0.09 }
    const states = [stateAt(0, 0, 1), stateAt(200, 350, 80), stateAt(400, 400, 1)]
    const { path } = filterMasses(stepsOf(states), rate, rate)
    expect(path[1]!.consumption).toBeGreaterThan(180)
    expect(path[1]!.consumption).toBeLessThan(260)
    expect(path[2]!.consumption).toBeCloseTo(400, 0)
  })

  it('take a spent anode for used up, however fast it went', () => {
    const rate = { mean: 1, variance: 0.09 }
    const { path } = filterMasses(stepsOf([stateAt(0, 0, 1), stateAt(400, 500, 20, true)]), rate, rate)
    expect(path[1]!.consumption).toBe(500)
  })
})

describe('a threshold that was passed between two weighings', () => {
  const noise = () => 0.02
  const logRate = () => ({ mean: Math.log(1.5), variance: 0.06 })
  const pathOf = (consumption: number, sd: number) => [
    { on: 0, exposureDays: 0, consumption: 0, variance: 1 },
    { on: 400, exposureDays: 400, consumption, variance: sd ** 2 },
  ]

  it('was passed in proportion to the exposure, most likely', () => {
    const passed = passedBy({ path: pathOf(800, 2), due: { mean: 500, sd: 0 }, spent: false, noise, logRate })
    // 500 of 800 g: five eighths of the way, 150 days before the last weighing.
    expect(passed(-150)).toBeCloseTo(0.5, 2)
    expect(passed(0)).toBeGreaterThan(0.999)
    expect(passed(-399)).toBeLessThan(0.001)
  })

  it('was passed no later than in proportion where the anode was spent, and likely earlier', () => {
    const due = { mean: 500, sd: 0 }
    const spent = passedBy({
      path: pathOf(1000, 20),
      due,
      spent: true,
      noise,
      logRate: () => ({ mean: 1.5, variance: 0.06 }),
    })
    // Its like lose 4.5 g a day: 500 g in 112 days.
    expect(spent(-200)).toBeGreaterThan(0.99)
    expect(spent(-400 + 112)).toBeGreaterThan(0.35)
    expect(spent(-400 + 112)).toBeLessThan(0.65)
  })

  it('becomes likelier with time', () => {
    const inputs = fc.record({
      consumption: fc.double({ min: -50, max: 1200, noNaN: true }),
      sd: fc.double({ min: 0, max: 150, noNaN: true }),
      due: fc.record({
        mean: fc.double({ min: 50, max: 800, noNaN: true }),
        sd: fc.double({ min: 0, max: 50, noNaN: true }),
      }),
      spent: fc.boolean(),
    })
    const day = fc.double({ min: -400, max: 0, noNaN: true })
    fc.assert(
      fc.property(inputs, day, day, ({ consumption, sd, due, spent }, a, b) => {
        const passed = passedBy({ path: pathOf(consumption, sd), due, spent, noise, logRate })
        expect(passed(Math.min(a, b))).toBeLessThanOrEqual(passed(Math.max(a, b)) + 1e-12)
        expect(passed(0)).toBeLessThanOrEqual(1)
      }),
    )
  })
})
