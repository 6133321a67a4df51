import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ExposureCalendar } from '../../../src/engine/rates/exposure-calendar.js'
import { fitRates } from '../../../src/engine/rates/fit-rates.js'
import type { FleetHistory } from '../../../src/engine/rates/fleet-history.js'
import { DAYS_PER_YEAR, SeasonClock, seasonPriorAt } from '../../../src/engine/rates/season.js'
import { SIMULATION_START, Uniform } from '../simulated-fleet.js'

const seasons = fc.record({
  cos: fc.double({ min: -0.6, max: 0.6, noNaN: true }),
  sin: fc.double({ min: -0.3, max: 0.3, noNaN: true }),
  warmestDay: fc.constantFrom(228, 410.6),
})

describe('SeasonClock', () => {
  it('leaves a whole year as long as it is, from any day', () => {
    fc.assert(
      fc.property(seasons, fc.integer({ min: 0, max: 30_000 }), (season, from) => {
        const clock = new SeasonClock(season)
        expect(clock.weightedDays(from, from + DAYS_PER_YEAR)).toBeCloseTo(DAYS_PER_YEAR, 6)
        expect(clock.moments(from, from + DAYS_PER_YEAR).cos).toBeCloseTo(0, 6)
      }),
    )
  })

  // Abramowitz and Stegun 9.6.16: the mean of exp(a·cos φ) over a turn is the modified Bessel function I₀(a); I₀(0.4) = 1.0404017822.
  it('has a peak of exp(a)/I₀(a)', () => {
    const clock = new SeasonClock({ cos: 0.4, sin: 0, warmestDay: 228 })
    expect(clock.weightedDays(227.95, 228.05) / 0.1).toBeCloseTo(Math.exp(0.4) / 1.0404017822, 4)
  })

  it('has moments that are the slope of the log of its weighted days', () => {
    const step = 1e-5
    const weighted = (cos: number) =>
      Math.log(new SeasonClock({ cos, sin: 0.1, warmestDay: 228 }).weightedDays(90, 250))
    const clock = new SeasonClock({ cos: 0.3, sin: 0.1, warmestDay: 228 })
    const slope = (weighted(0.3 + step) - weighted(0.3 - step)) / (2 * step)
    expect(clock.moments(90, 250).cos / clock.weightedDays(90, 250)).toBeCloseTo(slope, 5)
  })

  it('finds the day again from the weighted days, forwards and backwards', () => {
    const day = fc.integer({ min: 0, max: 20_000 })
    fc.assert(
      fc.property(seasons, day, fc.integer({ min: 1, max: 4000 }), (season, from, length) => {
        const clock = new SeasonClock(season)
        const weighted = clock.weightedDays(from, from + length)
        expect(clock.dayAt(from, weighted)).toBeCloseTo(from + length, 3)
        expect(clock.dayBefore(from + length, weighted)).toBeCloseTo(from, 3)
      }),
    )
  })

  it('is half a year later in the south', () => {
    const north = seasonPriorAt(50).season
    const south = seasonPriorAt(-50).season
    expect(south.warmestDay - north.warmestDay).toBeCloseTo(DAYS_PER_YEAR / 2, 6)
    expect(seasonPriorAt(0).season.cos).toBeLessThan(north.cos)
  })
})

/** Anodes of many boats under one known season, each interval with its own noise; `lengthDays` apart from `firstDay` on. */
function seasonalFleet(random: Uniform, cos: number, lengthDays: (index: number) => number): FleetHistory {
  const clock = new SeasonClock({ cos, sin: 0, warmestDay: 228 })
  const boats = Array.from({ length: 40 }, (_, index) => {
    const boat = `B${index}`
    const logRate = Math.log(1.2) + 0.3 * random.normal()
    const calendar = { stays: [{ from: SIMULATION_START, to: null, berth: 'P' }], haulOuts: [] }
    const exposure = new ExposureCalendar(calendar, SIMULATION_START, clock)
    let day = SIMULATION_START + 30
    const anodes = Array.from({ length: 8 }, (_, life) => {
      const end = day + lengthDays(index + life)
      const loss = Math.exp(logRate + 0.15 * random.normal()) * exposure.between(day, end).days
      const anode = {
        key: `${boat}/${life}`,
        anode: `a${life}`,
        position: 'hull',
        alloy: 'zinc' as const,
        shape: null,
        fittedOn: day,
        removedOn: end,
        fittedGrossMassG: 1080,
        coreMassG: 80,
        dimensions: { lengthMm: null, widthMm: null, heightMm: null },
        threshold: 0.5,
        weighings: [
          { on: end, judgement: { method: 'scale' as const, grossMassG: 1080 - loss, resolutionG: 1, cleaned: true } },
        ],
      }
      day = end
      return anode
    })
    return { boat, ...calendar, anodes, demandCurrentA: null }
  })
  return { berths: [{ berth: 'P', water: 'salt', latitude: 50 }], boats }
}

describe('the season of a fleet', () => {
  const end = SIMULATION_START + 3000

  it('is found where intervals begin and end at all times of the year', () => {
    for (const truth of [0, 0.45]) {
      const model = fitRates(
        seasonalFleet(new Uniform(11), truth, (index) => 110 + ((index * 37) % 120)),
        end,
      )
      // 320 intervals of a third of a year at a noise of 0.15: the amplitude is known to about 0.02.
      expect(Math.abs(model.observation.season.cos - truth)).toBeLessThan(0.07)
    }
  })

  it('keeps its default, with its uncertainty, where every interval is a year', () => {
    const model = fitRates(
      seasonalFleet(new Uniform(12), 0.45, () => 365),
      end,
    )
    expect(model.observation.season.cos).toBeCloseTo(seasonPriorAt(50).season.cos, 1)
    const se = model.fit!.fixed.find(({ name }) => name === 'season, cosine')!.se
    expect(se).toBeGreaterThan(0.8 * seasonPriorAt(50).cosSd)
  })
})
