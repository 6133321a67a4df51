import { describe, expect, it } from 'vitest'
import { knownBy } from '../../../src/engine/forecast/anode-outlook.js'
import { forecastFleet } from '../../../src/engine/forecast/fleet-forecast.js'
import { observeFleet } from '../../../src/engine/rates/rate-intervals.js'
import { calibrationOf, type JudgedScore } from '../../../src/engine/scoring/calibration.js'
import { HORIZONS, horizonOf } from '../../../src/engine/scoring/horizons.js'
import { scoreForecast } from '../../../src/engine/scoring/score-forecast.js'
import { SIMULATION_START, simulateFleet, Uniform } from '../simulated-fleet.js'

function scoreAt(transform: number, part: Partial<JudgedScore> = {}): JudgedScore {
  return {
    weighing: 'w',
    horizonDays: 100,
    water: 'salt',
    alloy: 'zinc',
    hindsight: false,
    transform,
    crpsG: 10,
    moreLostG: 5,
    aheadDays: 3,
    ...part,
  }
}

describe('calibrationOf', () => {
  it('covers as it says where the transforms are spread evenly, and has no bias', () => {
    const even = Array.from({ length: 1000 }, (_, index) => scoreAt((index + 0.5) / 1000))
    const { coverage, meanScore, reliability } = calibrationOf(even)
    expect(coverage.map(({ level, share }) => [level, share])).toEqual([
      [0.5, 0.5],
      [0.8, 0.8],
      [0.9, 0.9],
    ])
    expect(meanScore).toBeCloseTo(0, 9)
    expect(reliability.map(({ count }) => count)).toEqual(new Array(10).fill(100))
  })

  it('puts uniform draws within their binomial bounds', () => {
    const random = new Uniform(5)
    const count = 2000
    const { coverage, reliability } = calibrationOf(Array.from({ length: count }, () => scoreAt(random.next())))
    // Four standard errors of a share: one draw of 16,000 lies beyond.
    const bound = (share: number) => 4 * Math.sqrt((share * (1 - share)) / count)
    for (const { level, share } of coverage) expect(Math.abs(share! - level)).toBeLessThan(bound(level))
    for (const { share } of reliability) expect(Math.abs(share! - 0.1)).toBeLessThan(bound(0.1))
  })

  it('counts each score in one group of a kind and in one bin, the ends included', () => {
    const scores = [
      scoreAt(0, { horizonDays: 1, water: null }),
      scoreAt(1, { horizonDays: 90, alloy: 'magnesium' }),
      scoreAt(0.5, { horizonDays: 365, hindsight: true, weighing: 'v' }),
    ]
    const calibration = calibrationOf(scores)
    expect(calibration).toMatchObject({ scored: 3, weighings: 2, hindsight: 1, biasG: 5, biasDays: 3, crpsG: 10 })
    const total = (parts: readonly { readonly scored: number }[]) => parts.reduce((sum, { scored }) => sum + scored, 0)
    for (const groups of [calibration.byHorizon, calibration.byWater, calibration.byAlloy])
      expect(total(groups)).toBe(3)
    expect(calibration.reliability.reduce((sum, { count }) => sum + count, 0)).toBe(3)
    expect(calibration.byWater.map(({ group }) => group)).toEqual(['salt', 'unrecorded'])
    expect(Number.isFinite(calibration.meanScore)).toBe(true)
  })

  it('says nothing where nothing was judged', () => {
    const { scored, coverage, meanScore, biasG, biasDays, crpsG } = calibrationOf([])
    expect([scored, meanScore, biasG, biasDays, crpsG]).toEqual([0, null, null, null, null])
    expect(coverage.every(({ share, low, high }) => share === null && low === null && high === null)).toBe(true)
  })
})

describe('HORIZONS', () => {
  it('follow on each other from the first day, each around its middle', () => {
    HORIZONS.forEach(({ from, to, middle }, index) => {
      expect(from).toBe(index === 0 ? 1 : HORIZONS[index - 1]!.to)
      expect(middle > from && middle < to).toBe(true)
      expect(horizonOf(from)).toBe(HORIZONS[index])
    })
    expect(HORIZONS.at(-1)?.to).toBe(Infinity)
    expect(horizonOf(0)).toBeUndefined()
  })
})

describe('scoreForecast', () => {
  const { fleet, asOf } = simulateFleet(new Uniform(7), 60, 4, {
    boat: 0.35,
    berth: 0.2,
    anode: 0.15,
    residual: 0.2,
    scaleG: 2,
  })
  const origin = SIMULATION_START + 2 * 365
  const forecast = forecastFleet(knownBy(fleet, origin, asOf), origin)
  const observed = observeFleet(fleet, asOf, forecast.summary.observation)
  const outlooks = new Map(forecast.anodes.map(({ key, outlook }) => [key, outlook]))
  const scores = observed.flatMap((boat) =>
    boat.anodes.flatMap((anode) =>
      anode.states
        .filter(({ on }) => on > origin)
        .flatMap(({ on }) => {
          const outlook = outlooks.get(anode.history.key)
          return (outlook && scoreForecast(outlook, boat, anode, on)) ?? []
        }),
    ),
  )

  it('finds a fleet drawn from the model within the intervals at least as often as they say, without bias', () => {
    expect(scores.length).toBeGreaterThan(100)
    const { coverage, meanScore } = calibrationOf(
      scores.map((score, index) => ({ ...scoreAt(0), ...score, weighing: `${index}` })),
    )
    // Three standard errors of a share, two weighings of one boat telling as much as one alone. From below only: this fleet knows neither
    // seasons nor heavy tails, which the forecasts allow for.
    for (const { level, share } of coverage)
      expect(share!).toBeGreaterThan(level - 3 * Math.sqrt((2 * level * (1 - level)) / scores.length))
    expect(Math.abs(meanScore!)).toBeLessThan(0.4)
    expect(coverage[1]!.share).toBeLessThan(0.97)
  })

  it('tells more lost, more days ahead and a transform above a half of the same weighings', () => {
    for (const { transform, moreLostG, aheadDays, crpsG } of scores) {
      expect(crpsG).toBeGreaterThan(0)
      // At the very middle the sign is a matter of rounding, and so is that of the mass where nothing is left either way.
      if (Math.abs(transform - 0.5) < 1e-6) continue
      expect(Math.sign(aheadDays)).toBe(Math.sign(transform - 0.5))
      if (Math.abs(moreLostG) > 1e-6) expect(Math.sign(moreLostG)).toBe(Math.sign(transform - 0.5))
    }
  })

  it('has nothing to say of a day without a weighing, or of one the forecast knew', () => {
    const boat = observed[0]!
    const anode = boat.anodes.find(({ history }) => outlooks.has(history.key))!
    const outlook = outlooks.get(anode.history.key)!
    expect(scoreForecast(outlook, boat, anode, asOf + 1)).toBeNull()
    expect(scoreForecast(outlook, boat, anode, anode.states[0]!.on)).toBeNull()
  })
})
