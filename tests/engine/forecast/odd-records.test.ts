import { describe, expect, it } from 'vitest'
import { forecastFleet } from '../../../src/engine/forecast/fleet-forecast.js'
import type { AnodeForecast } from '../../../src/engine/forecast/forecast-anode.js'
import type {
  AnodeHistory,
  BoatHistory,
  DatedJudgement,
  FleetHistory,
} from '../../../src/engine/rates/fleet-history.js'

const TODAY = 20_600
const YEAR = 365
const NEW_G = 1080
const CORE_G = 80
const THRESHOLD_MASS_G = CORE_G + 0.5 * (NEW_G - CORE_G)

const scale = (on: number, grossMassG: number): DatedJudgement => ({
  on,
  judgement: { method: 'scale', grossMassG, resolutionG: 1, cleaned: true },
})

function anodeOf(key: string, fittedOn: number, weighings: DatedJudgement[], part: Partial<AnodeHistory> = {}) {
  const dimensions = { lengthMm: null, widthMm: null, heightMm: null }
  const masses = { fittedGrossMassG: NEW_G, coreMassG: CORE_G, threshold: 0.5 }
  const what = { position: 'hull', alloy: 'zinc' as const, shape: 'plate' }
  return { key, anode: key, ...what, fittedOn, removedOn: null, ...masses, dimensions, weighings, ...part }
}

const boatOf = (boat: string, anodes: AnodeHistory[], stays: BoatHistory['stays'] = []): BoatHistory => ({
  boat,
  stays: stays.length > 0 ? stays : [{ from: TODAY - 60 * YEAR, to: null, berth: 'A1' }],
  haulOuts: [],
  anodes,
  demandCurrentA: null,
})

const fleetOf = (...boats: BoatHistory[]): FleetHistory => ({
  berths: [{ berth: 'A1', water: 'salt', latitude: 54 }],
  boats,
})

const QUANTILES = ['p05', 'p10', 'p50', 'p90', 'p95'] as const

/** Finite, in order, and dates that agree with today's mass: none before today where the mass says that it is not due. */
function expectSound({ asOf, massNow, consumedNow, replace, riskBeforeNextHaulOut, rate, basis }: AnodeForecast): void {
  const numbers = [...Object.values(massNow), consumedNow, riskBeforeNextHaulOut, ...Object.values(rate)]
  for (const number of [...numbers, ...Object.values(basis)]) expect(number).toSatisfy(Number.isFinite)
  const days = QUANTILES.map((quantile) => replace[quantile] ?? Infinity)
  expect(days.some(Number.isNaN)).toBe(false)
  expect([...days].sort((a, b) => a - b)).toEqual(days)
  for (const quantile of ['p10', 'p50', 'p90'] as const) {
    if (massNow[quantile] > THRESHOLD_MASS_G + 1) expect(replace[quantile] ?? Infinity).toBeGreaterThanOrEqual(asOf)
    if (massNow[quantile] < THRESHOLD_MASS_G - 1) expect(replace[quantile] ?? Infinity).toBeLessThanOrEqual(asOf)
  }
}

function forecastsOf(fleet: FleetHistory): AnodeForecast[] {
  const { anodes } = forecastFleet(fleet, TODAY)
  for (const { forecast } of anodes) expectSound(forecast)
  return anodes.map(({ forecast }) => forecast)
}

const yearsBetween = (from: number | null, to: number | null) => ((to ?? Infinity) - from!) / YEAR

describe('an odd record still gets an answer that says how little it knows', () => {
  it('one boat, one anode, no weighing: a life as common practice has it, wide', () => {
    const [only] = forecastsOf(fleetOf(boatOf('B', [anodeOf('a', TODAY - 30, [])])))
    expect(only!.basis.anode + only!.basis.boat).toBeLessThan(0.05)
    // Nine to eighteen months are common; what is not known of boats, berths and anodes makes it several times as wide.
    expect(yearsBetween(TODAY, only!.replace.p50)).toBeGreaterThan(0.4)
    expect(yearsBetween(only!.replace.p10, only!.replace.p90)).toBeGreaterThan(1)
  })

  it('an anode of which nothing was ever weighed has none', () => {
    const unknown = anodeOf('a', TODAY - 30, [], { fittedGrossMassG: null, coreMassG: null })
    expect(forecastsOf(fleetOf(boatOf('B', [unknown])))).toEqual([])
  })

  it('two weighings of one day count once, together', () => {
    const on = TODAY - 100
    const twice = forecastsOf(fleetOf(boatOf('B', [anodeOf('a', on - 200, [scale(on, 900), scale(on, 904)])])))
    const once = forecastsOf(fleetOf(boatOf('B', [anodeOf('a', on - 200, [scale(on, 902)])])))
    expect(Math.abs(twice[0]!.replace.p50! - once[0]!.replace.p50!)).toBeLessThanOrEqual(3)
  })

  it('weighings with no day in the water between them', () => {
    const ashore = [{ from: TODAY - 900, to: null, berth: null }]
    const weighings = [scale(TODAY - 600, 1079), scale(TODAY - 300, 1080), scale(TODAY, 1078)]
    const [only] = forecastsOf(fleetOf(boatOf('B', [anodeOf('a', TODAY - 800, weighings)], ashore)))
    expect(Math.abs(only!.massNow.p50 - 1079)).toBeLessThan(5)
    expect(only!.replace.p10!).toBeGreaterThan(TODAY)
  })

  it('the same loss ten thousand times over', () => {
    const lives = (boat: number) =>
      Array.from({ length: 100 }, (_, index) => {
        const [position, life] = [index % 10, Math.floor(index / 10)]
        const fitted = TODAY - (10 - life) * 400
        const isOver = life < 9 || position > 0
        const weighings = [scale(fitted + 400, 680)]
        return anodeOf(`${boat}/${index}`, fitted, weighings, isOver ? { removedOn: fitted + 400 } : {})
      })
    const fleet = fleetOf(...Array.from({ length: 100 }, (_, boat) => boatOf(`B${boat}`, lives(boat))))
    const forecasts = forecastsOf(fleet)
    expect(forecasts).toHaveLength(100)
    // 400 g in 400 days, every time: the last 100 g take about 100 days more.
    for (const { replace } of forecasts) expect(Math.abs(replace.p50! - TODAY - 100)).toBeLessThan(25)
  })

  it('every mass a gain: nothing is lost, and nothing is due soon', () => {
    const gains = (boat: number) => [
      anodeOf(`${boat}`, TODAY - 900, [scale(TODAY - 600, 1084), scale(TODAY - 300, 1088), scale(TODAY, 1093)]),
    ]
    const fleet = fleetOf(...Array.from({ length: 8 }, (_, boat) => boatOf(`B${boat}`, gains(boat))))
    for (const { replace, rate } of forecastsOf(fleet)) {
      expect(rate.p50).toBeGreaterThan(0)
      expect(yearsBetween(TODAY, replace.p50)).toBeGreaterThan(1)
    }
  })

  it('a record of forty years ago: due long since, and no date ahead of what the mass says', () => {
    const old = TODAY - 40 * YEAR
    const fleet = fleetOf(boatOf('B', [anodeOf('a', old, [scale(old + 200, 950)])]))
    const [only] = forecastsOf(fleet)
    expect(only!.replace.p95!).toBeLessThan(TODAY)
    expect(only!.replace.p05!).toBeGreaterThanOrEqual(old + 200)
    expect(only!.recommendedOn).toBe(TODAY)
    expect(only!.massNow.p50).toBeGreaterThanOrEqual(CORE_G)
  })

  it('a record of forty years ago of a boat that stood ashore ever since', () => {
    const old = TODAY - 40 * YEAR
    const stays = [
      { from: old - 500, to: old + 200, berth: 'A1' },
      { from: old + 200, to: null, berth: null },
    ]
    const [only] = forecastsOf(fleetOf(boatOf('B', [anodeOf('a', old, [scale(old + 200, 950)])], stays)))
    expect(Math.abs(only!.massNow.p50 - 950)).toBeLessThan(5)
    expect(only!.replace.p10!).toBeGreaterThan(TODAY)
  })

  it('a fleet of nothing', () => {
    expect(forecastsOf(fleetOf())).toEqual([])
    expect(forecastsOf(fleetOf(boatOf('B', [])))).toEqual([])
  })
})
