import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anodesInPlace, outlookOf } from '../../../src/engine/forecast/anode-outlook.js'
import { type CrossingDays, forecastAnode } from '../../../src/engine/forecast/forecast-anode.js'
import { forecastPlan } from '../../../src/engine/forecast/what-if.js'
import { fitRates } from '../../../src/engine/rates/fit-rates.js'
import type { BoatHistory, FleetHistory } from '../../../src/engine/rates/fleet-history.js'
import type { RateModel } from '../../../src/engine/rates/rate-model.js'
import { updateBoat } from '../../../src/engine/rates/update-boat.js'
import { simulateFleet, Uniform } from '../simulated-fleet.js'

const { fleet, asOf } = simulateFleet(new Uniform(17), 30, 4, {
  boat: 0.35,
  berth: 0.2,
  anode: 0.15,
  residual: 0.2,
  scaleG: 2,
})
const model = fitRates(fleet, asOf)
const inPlace = anodesInPlace(model)
const anodes = fc.constantFrom(...inPlace)
const RUNS = { seed: 20260611, numRuns: 50 }

const QUANTILES = ['p05', 'p10', 'p50', 'p90', 'p95'] as const
const dayOf = (days: CrossingDays, quantile: (typeof QUANTILES)[number]) => days[quantile] ?? Infinity

function expectNoneLater(days: CrossingDays, than: CrossingDays): void {
  for (const quantile of QUANTILES) expect(dayOf(days, quantile), quantile).toBeLessThanOrEqual(dayOf(than, quantile))
}

function forecastOf(fitted: RateModel, key: string) {
  const found = anodesInPlace(fitted).find(({ anode }) => anode.history.key === key)!
  return forecastAnode(fitted, outlookOf(fitted, found.boat, found.anode))
}

describe('a date is never later', () => {
  it('for more consumption, at the rate that is believed', () => {
    fc.assert(
      fc.property(anodes, fc.double({ min: 0, max: 1500, noNaN: true }), ({ boat, anode }, more) => {
        const outlook = outlookOf(model, boat, anode)
        const last = { ...outlook.last, consumption: outlook.last.consumption + more }
        const consumed = { ...outlook, last, path: [...outlook.path.slice(0, -1), last] }
        expectNoneLater(forecastAnode(model, consumed).replace, forecastAnode(model, outlook).replace)
      }),
      RUNS,
    )
  })

  /**
   * A new weighing moves the rate too. It does so the more the farther it lies from what was expected, up to two standard deviations
   * of a Student t of four degrees, where an interval counts for 5/8: beyond, it is ever more likely a fault, and counts for less.
   */
  it('for a heavier loss at a new weighing, as long as the interval is no more likely a fault', () => {
    const COUNTS_FOR = 5 / 8
    const sds = fc.double({ min: -3, max: 3, noNaN: true })
    let compared = 0
    const awhile = inPlace.filter(({ anode }) => asOf - anode.states.at(-1)!.on > 60)
    fc.assert(
      fc.property(fc.constantFrom(...awhile), sds, sds, ({ boat, anode }, a, b) => {
        const { key } = anode.history
        const { p10, p50, p90 } = forecastOf(model, key).massNow
        const [more, less] = [Math.min(a, b), Math.max(a, b)].map(
          (z) => updateBoat(model, weighedToday(boat.history, key, p50 + (z * (p90 - p10)) / WIDTH_IN_SDS))!,
        )
        const weightIn = (fitted: RateModel) =>
          fitted.weights[fitted.intervals.findLastIndex(({ context }) => context.anode.history.key === key)]!
        if (Math.min(weightIn(less!), weightIn(more!)) < COUNTS_FOR) return
        compared += 1
        expectNoneLater(forecastOf(more!, key).replace, forecastOf(less!, key).replace)
      }),
      RUNS,
    )
    expect(compared).toBeGreaterThan(10)
  })

  it('for a shorter threshold', () => {
    const threshold = fc.double({ min: 0.05, max: 0.95, noNaN: true })
    fc.assert(
      fc.property(anodes, threshold, threshold, ({ boat, anode }, a, b) => {
        const due = (at: number) => {
          const other = { ...anode, history: { ...anode.history, threshold: at } }
          return forecastAnode(model, outlookOf(model, boat, other)).replace
        }
        expectNoneLater(due(Math.min(a, b)), due(Math.max(a, b)))
      }),
      RUNS,
    )
  })
})

/** Of a normal distribution from its 10 % to its 90 % quantile. */
const WIDTH_IN_SDS = 2.563

/** The boat with one of its anodes weighed today. */
function weighedToday(boat: BoatHistory, key: string, massG: number): BoatHistory {
  return {
    ...boat,
    anodes: boat.anodes.map((anode) => {
      if (anode.key !== key) return anode
      const grossMassG = Math.max(anode.coreMassG!, massG)
      const judgement = { method: 'scale' as const, grossMassG, resolutionG: 1, cleaned: true }
      return { ...anode, weighings: [...anode.weighings, { on: asOf, judgement }] }
    }),
  }
}

describe('the order of what is told', () => {
  it('of boats, berths, anodes, stays and haul-outs changes nothing', () => {
    const lifted: FleetHistory = { ...fleet, boats: fleet.boats.slice(0, 12).map(withStaysAndLifts) }
    const told = fitRates(lifted, asOf)
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e9 }), (seed) => {
        const other = fitRates(shuffled(lifted, new Uniform(seed)), asOf)
        for (const { anode } of anodesInPlace(told)) {
          const [a, b] = [forecastOf(told, anode.history.key), forecastOf(other, anode.history.key)]
          // A date is a whole day: the last bit of a sum may decide which.
          for (const quantile of QUANTILES)
            expect(Math.abs(dayOf(a.replace, quantile) - dayOf(b.replace, quantile)) || 0).toBeLessThanOrEqual(1)
          expect(Math.abs(a.massNow.p50 - b.massNow.p50)).toBeLessThan(1e-3 * anode.fitted.netMassG)
          expect(b.nextHaulOut).toEqual(a.nextHaulOut)
          expect(b.haulOutRisks.map(({ on }) => on)).toEqual(a.haulOutRisks.map(({ on }) => on))
        }
      }),
      { ...RUNS, numRuns: 3 },
    )
  })
})

function withStaysAndLifts(boat: BoatHistory): BoatHistory {
  const [stay] = boat.stays
  const turn = asOf - 500
  return {
    ...boat,
    stays: [
      { ...stay!, to: turn },
      { from: turn, to: turn + 40, berth: null },
      { ...stay!, from: turn + 40 },
    ],
    haulOuts: [
      { on: turn, relaunchedOn: turn + 40, planned: false },
      { on: asOf + 90, relaunchedOn: null, planned: true },
      { on: asOf + 300, relaunchedOn: null, planned: true },
    ],
  }
}

function shuffled({ berths, boats }: FleetHistory, random: Uniform): FleetHistory {
  const mixed = <T>(list: readonly T[]): T[] =>
    list
      .map((each) => [random.next(), each] as const)
      .sort(([a], [b]) => a - b)
      .map(([, each]) => each)
  return {
    berths: mixed(berths),
    boats: mixed(boats).map((boat) => ({
      ...boat,
      stays: mixed(boat.stays),
      haulOuts: mixed(boat.haulOuts),
      anodes: mixed(boat.anodes),
    })),
  }
}

describe('days ashore', () => {
  // Without seasons any day in the water is worth any other; the clock that has none.
  const { season } = model.observation
  const even: RateModel = { ...model, observation: { ...model.observation, season: { ...season, cos: 0, sin: 0 } } }

  const shifts = (days: number, { boat, anode }: (typeof inPlace)[number]): number[] => {
    const { boat: name, stays } = boat.history
    const berth = stays[0]!.berth
    const due = (...planned: BoatHistory['stays']) =>
      forecastPlan(even, name, { stays: planned, haulOuts: [] })!.get(anode.history.key)!.replace
    const afloat = due({ from: asOf, to: null, berth })
    const ashore = due({ from: asOf, to: asOf + days, berth: null }, { from: asOf + days, to: null, berth })
    return QUANTILES.flatMap((quantile) => {
      const [before, after] = [afloat[quantile], ashore[quantile]]
      return before === null || after === null || before <= asOf ? [] : [after - before]
    })
  }

  it('move the date by as many days: by a day for a day', () => {
    const all: number[] = []
    fc.assert(
      fc.property(anodes, (each) => {
        const own = shifts(1, each)
        for (const shift of own) expect(Math.abs(shift - 1)).toBeLessThanOrEqual(1)
        all.push(...own)
      }),
      { ...RUNS, numRuns: 25 },
    )
    expect(all.filter((shift) => shift === 1).length / all.length).toBeGreaterThan(0.9)
  })

  it('and by whole years for whole years', () => {
    fc.assert(
      fc.property(anodes, fc.integer({ min: 1, max: 3 }), (each, years) => {
        const days = Math.round(365.25 * years)
        for (const shift of shifts(days, each)) expect(Math.abs(shift - days)).toBeLessThanOrEqual(2 * years)
      }),
      { ...RUNS, numRuns: 15 },
    )
  })
})
