import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anodesInPlace, outlookOf } from '../../../src/engine/forecast/anode-outlook.js'
import { type CrossingDays, forecastAnode } from '../../../src/engine/forecast/forecast-anode.js'
import { forecastPlan } from '../../../src/engine/forecast/what-if.js'
import { fitRates } from '../../../src/engine/rates/fit-rates.js'
import type { BoatHistory, FleetHistory } from '../../../src/engine/rates/fleet-history.js'
import { grossMassAt } from '../../../src/engine/rates/mass-states.js'
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

  /** The boat's dates by what one of its anodes has lost since its last weighing, as a share of what it weighed when new. */
  const weighedAnew = ({ boat, anode }: (typeof inPlace)[number], lostShare: number): BoatHistory => {
    const last = anode.states.at(-1)!
    const grossMassG = grossMassAt(anode, last.consumption) - lostShare * anode.fitted.netMassG
    return weighedToday(boat.history, anode.history.key, grossMassG)
  }
  /** No more than it still had. */
  const mostLost = ({ anode }: (typeof inPlace)[number]) => {
    const { coreMassG, netMassG } = anode.fitted
    return Math.max(0, (grossMassAt(anode, anode.states.at(-1)!.consumption) - coreMassG) / netMassG - 0.05)
  }
  const awhile = inPlace.filter(({ anode }) => asOf - anode.states.at(-1)!.on > 60)
  /** A date is a whole day: the last bit of a sum may decide which. */
  const ROUNDING_DAYS = 1

  it('for a heavier loss at a new weighing, from none to all that was left: a rate that is believed no longer still pulls', () => {
    const shares = fc.double({ min: 0, max: 1, noNaN: true })
    let doubted = 0
    fc.assert(
      fc.property(fc.constantFrom(...awhile), shares, shares, (each, a, b) => {
        const { key } = each.anode.history
        // Squared: half of the losses below a quarter, where the fit goes from believing nothing to believing.
        const [less, more] = [Math.min(a, b), Math.max(a, b)].map((share) =>
          updateBoat(model, weighedAnew(each, mostLost(each) * share ** 2)),
        )
        const [before, after] = [forecastOf(less!, key).replace, forecastOf(more!, key).replace]
        for (const quantile of QUANTILES)
          expect(dayOf(after, quantile), quantile).toBeLessThanOrEqual(dayOf(before, quantile) + ROUNDING_DAYS)
        if (Math.min(less!.weights.at(-1)!, more!.weights.at(-1)!) < 0.5) doubted += 1
      }),
      { ...RUNS, numRuns: 150 },
    )
    expect(doubted).toBeGreaterThan(40)
  })

  it('nor for a loss of a few percent than for none over most of a year', () => {
    const long = awhile.filter(({ anode }) => asOf - anode.states.at(-1)!.on > 200)
    expect(long.length).toBeGreaterThan(3)
    for (const each of long) {
      const { key } = each.anode.history
      const days = [0, 0.01, 0.02, 0.05].map((share) =>
        dayOf(forecastOf(updateBoat(model, weighedAnew(each, share))!, key).replace, 'p50'),
      )
      days.slice(1).forEach((day, at) => {
        expect(day).toBeLessThanOrEqual(days[at]! + ROUNDING_DAYS)
      })
    }
  })

  /** The parameters move as well: other noise, other spreads, another season. That may cost a few days, but seldom. */
  it('for a heavier loss, in nearly all full refits', () => {
    const small = { ...fleet, boats: fleet.boats.slice(0, 12) }
    const own = awhile.filter(({ boat }) => small.boats.includes(boat.history)).slice(0, 4)
    const shares = [0, 0.03, 0.1, 0.25]
    let later = 0
    let compared = 0
    for (const each of own) {
      const { key } = each.anode.history
      const days = shares
        .filter((share) => share <= mostLost(each))
        .map((share) => {
          const changed = weighedAnew(each, share)
          const boats = small.boats.map((boat) => (boat === each.boat.history ? changed : boat))
          return dayOf(forecastOf(fitRates({ ...small, boats }, asOf), key).replace, 'p50')
        })
      compared += days.length - 1
      later += days.slice(1).filter((day, at) => day > days[at]! + ROUNDING_DAYS).length
    }
    expect(compared).toBeGreaterThan(6)
    expect(later).toBeLessThanOrEqual(1)
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
