import { describe, expect, it } from 'vitest'
import { anodesInPlace, knownBy, outlookOf } from '../../../src/engine/forecast/anode-outlook.js'
import { depletionCurve } from '../../../src/engine/forecast/depletion-curve.js'
import { forecastFleet } from '../../../src/engine/forecast/fleet-forecast.js'
import { forecastAnode } from '../../../src/engine/forecast/forecast-anode.js'
import { fitRates } from '../../../src/engine/rates/fit-rates.js'
import type {
  AnodeHistory,
  BoatHistory,
  DatedJudgement,
  FleetHistory,
} from '../../../src/engine/rates/fleet-history.js'
import { SIMULATION_START, simulateFleet, Uniform } from '../simulated-fleet.js'

const SPREAD = { boat: 0.35, berth: 0.2, anode: 0.15, residual: 0.2, scaleG: 2 }
const NO_DIMENSIONS = { lengthMm: null, widthMm: null, heightMm: null }

function scale(on: number, grossMassG: number): DatedJudgement {
  return { on, judgement: { method: 'scale', grossMassG, resolutionG: 1, cleaned: true } }
}

function anodeOf(key: string, fittedOn: number, weighings: DatedJudgement[], removedOn: number | null): AnodeHistory {
  return {
    key,
    anode: key,
    position: 'shaft',
    alloy: 'zinc',
    shape: 'shaft collar',
    fittedOn,
    removedOn,
    fittedGrossMassG: 1080,
    coreMassG: 80,
    dimensions: NO_DIMENSIONS,
    threshold: 0.5,
    weighings,
  }
}

describe('forecastFleet', () => {
  const { fleet, asOf, truths } = simulateFleet(new Uniform(3), 40, 5, SPREAD)
  const forecast = forecastFleet(fleet, asOf)
  const byKey = new Map(forecast.anodes.map((each) => [each.key, each.forecast]))

  it('covers the true crossing as often as it says, on a fleet drawn from its own model', () => {
    const inside = (low: 'p05' | 'p10', high: 'p90' | 'p95') =>
      truths.filter(({ key, crossesOn }) => {
        const { replace } = byKey.get(key)!
        return crossesOn >= replace[low]! && crossesOn < replace[high]! + 1
      }).length / truths.length
    // 120 anodes, those of one boat alike: three standard errors of a share of 0.8 are about 0.15, of 0.9 about 0.12.
    expect(inside('p10', 'p90')).toBeGreaterThan(0.65)
    expect(inside('p10', 'p90')).toBeLessThan(0.95)
    expect(inside('p05', 'p95')).toBeGreaterThan(0.78)
  })

  it('says on what each forecast rests, in shares that add to one', () => {
    for (const { basis } of byKey.values()) {
      const shares = Object.values(basis)
      expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9)
      expect(Math.min(...shares)).toBeGreaterThanOrEqual(0)
    }
  })

  it('keeps masses between core and new, and quantiles in order', () => {
    const model = fitRates(fleet, asOf)
    for (const { boat, anode } of anodesInPlace(model)) {
      const { massNow, rate } = forecastAnode(model, outlookOf(model, boat, anode))
      expect(massNow.p10).toBeGreaterThanOrEqual(anode.fitted.coreMassG)
      expect(massNow.p10).toBeLessThanOrEqual(massNow.p50)
      expect(massNow.p50).toBeLessThanOrEqual(massNow.p90)
      expect(rate.p10).toBeLessThan(rate.p50)
      expect(rate.p50).toBeLessThan(rate.p90)
    }
  })

  it('knows on a day only what was known by then', () => {
    const day = asOf - 700
    const known = knownBy(fleet, day, asOf)
    const lastWord = Math.max(
      ...known.boats.flatMap(({ anodes }) => anodes.flatMap(({ weighings }) => weighings.map(({ on }) => on))),
    )
    expect(lastWord).toBeLessThanOrEqual(day)
    const withoutFuture: FleetHistory = {
      ...fleet,
      boats: fleet.boats.map((boat) => ({
        ...boat,
        anodes: boat.anodes
          .filter(({ fittedOn }) => fittedOn! <= day)
          .map((anode) => ({
            ...anode,
            removedOn: anode.removedOn !== null && anode.removedOn <= day ? anode.removedOn : null,
            weighings: anode.weighings.filter(({ on }) => on <= day),
          })),
      })),
    }
    expect(forecastFleet(known, day)).toEqual(forecastFleet(withoutFuture, day))
  })

  it('draws a curve through the weighings and on past today, never rising', () => {
    const model = fitRates(fleet, asOf)
    const { boat, anode } = anodesInPlace(model).find((each) => each.anode.states.length > 1)!
    const curve = depletionCurve(outlookOf(model, boat, anode), asOf + 400)
    expect(curve[0]!.on).toBe(anode.states[0]!.on)
    expect(curve.at(-1)!.on).toBe(asOf + 400)
    const last = anode.states.at(-1)!
    const there = curve.find(({ on }) => on === last.on)!
    const observed = anode.fitted.coreMassG + anode.fitted.netMassG - last.consumption
    expect(Math.abs(there.p50 - observed)).toBeLessThan(4 * Math.sqrt(last.variance))
    for (const [index, { p50 }] of curve.slice(1).entries()) expect(p50).toBeLessThanOrEqual(curve[index]!.p50 + 1e-9)
  })
})

describe('wear', () => {
  // Common practice: an anode of the right alloy and size in salt water lasts about a year; spent in five months is abnormal.
  const berth = { berth: 'P', water: 'salt' as const, latitude: null }
  const lives = (days: number, from: number, count: number) =>
    Array.from({ length: count }, (_, index) => {
      const fitted = from + index * days
      return anodeOf(`a${days}-${fitted}`, fitted, [scale(fitted + days, 560)], fitted + days)
    })
  const boatWith = (anodes: AnodeHistory[]): BoatHistory => ({
    boat: 'B',
    stays: [{ from: SIMULATION_START, to: null, berth: 'P' }],
    haulOuts: [],
    anodes,
    demandCurrentA: null,
  })

  it('calls a year normal, and an anode spent in five months fast', () => {
    const before = lives(370, SIMULATION_START, 4)
    const fitted = SIMULATION_START + 4 * 370
    const judge = (days: number) => {
      const current = anodeOf('now', fitted, [scale(fitted + days, 560)], null)
      const { anodes } = forecastFleet({ berths: [berth], boats: [boatWith([...before, current])] }, fitted + days)
      return anodes.find(({ key }) => key === 'now')!.forecast.wear
    }
    expect(judge(360)?.judgement).toBe('normal')
    expect(judge(150)?.judgement).toBe('fast')
    // Four quiet years of one position are no more evidence than this: how far anodes lie apart is hardly known yet.
    expect(judge(150)!.surprise).toBeGreaterThan(1.5)
  })

  it('calls five months fast even where the boat has known nothing else', () => {
    const fitted = SIMULATION_START + 3 * 150
    const anodes = [...lives(150, SIMULATION_START, 3), anodeOf('now', fitted, [scale(fitted + 150, 560)], null)]
    const forecast = forecastFleet({ berths: [berth], boats: [boatWith(anodes)] }, fitted + 150)
    expect(forecast.anodes[0]!.forecast.wear).toMatchObject({ judgement: 'fast', against: 'common-practice' })
  })

  it('calls an anode that does nothing beside its like slow', () => {
    const idle = anodeOf('now', SIMULATION_START, [scale(SIMULATION_START + 370, 1078)], null)
    const forecast = forecastFleet(
      { berths: [berth], boats: [boatWith([...lives(370, SIMULATION_START, 4), { ...idle, position: 'hull' }])] },
      SIMULATION_START + 4 * 370,
    )
    expect(forecast.anodes.find(({ key }) => key === 'now')!.forecast.wear).toMatchObject({ judgement: 'slow' })
  })
})
