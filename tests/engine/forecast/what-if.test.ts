import { describe, expect, it } from 'vitest'
import { anodesInPlace, outlookOf } from '../../../src/engine/forecast/anode-outlook.js'
import { forecastAnode } from '../../../src/engine/forecast/forecast-anode.js'
import { forecastPlan } from '../../../src/engine/forecast/what-if.js'
import { fitRates } from '../../../src/engine/rates/fit-rates.js'
import { simulateFleet, Uniform } from '../simulated-fleet.js'

const { fleet, asOf } = simulateFleet(new Uniform(9), 40, 4, {
  boat: 0.3,
  berth: 0.4,
  anode: 0.1,
  residual: 0.15,
  scaleG: 2,
})
const model = fitRates(fleet, asOf)
const { boat, anode } = anodesInPlace(model).find(({ boat, anode }) => {
  const { p10 } = forecastAnode(model, outlookOf(model, boat, anode)).replace
  return p10 !== null && p10 > asOf + 60
})!
const name = boat.history.boat
const berth = boat.history.stays[0]!.berth!
const now = forecastAnode(model, outlookOf(model, boat, anode))
const planned = (...stays: { from: number; to: number | null; berth: string | null }[]) =>
  forecastPlan(model, name, { stays, haulOuts: [] })!.get(anode.history.key)!

describe('forecastPlan', () => {
  it('is the forecast itself where the boat stays at its berth', () => {
    const { replace, riskBeforeNextHaulOut } = planned({ from: asOf, to: null, berth })
    expect(replace).toEqual(now.replace)
    // One stay cut in two is the same exposure but for the last bit of a sum.
    expect(riskBeforeNextHaulOut).toBeCloseTo(now.riskBeforeNextHaulOut, 12)
  })

  it('moves a date by a year for a year ashore, and by some days for some days', () => {
    const ashoreFor = (days: number) =>
      planned({ from: asOf, to: asOf + days, berth: null }, { from: asOf + days, to: null, berth })
    // A whole year leaves the seasons where they are: 365.25 days to the day.
    expect(Math.abs(ashoreFor(365).replace.p50! - now.replace.p50! - 365)).toBeLessThanOrEqual(2)
    expect(ashoreFor(40).replace.p50!).toBeGreaterThan(now.replace.p50! + 15)
    // What is there now does not depend on plans, but for how far the season's uncertainty is spread.
    expect(Math.abs(ashoreFor(40).massNow.p50 - now.massNow.p50)).toBeLessThan(1)
  })

  it('leaves alone what lies behind: a plan moves no date before today', () => {
    const overdue = anodesInPlace(model).flatMap((each) => {
      const forecast = forecastAnode(model, outlookOf(model, each.boat, each.anode))
      return forecast.replace.p90! < asOf ? [{ ...each, forecast }] : []
    })
    expect(overdue.length).toBeGreaterThan(0)
    const effects = [...model.fit!.effects.berth!].sort((a, b) => a.mode - b.mode)
    for (const { boat, anode, forecast } of overdue) {
      for (const berth of [effects[0]!.level, effects.at(-1)!.level, null]) {
        const plan = { stays: [{ from: asOf, to: null, berth }], haulOuts: [] }
        const then = forecastPlan(model, boat.history.boat, plan)!.get(anode.history.key)!
        for (const p of ['p10', 'p50', 'p90'] as const)
          expect(Math.abs(then.replace[p]! - forecast.replace[p]!)).toBeLessThanOrEqual(3)
      }
    }
  })

  it('goes by the berth that is planned: later where the fleet wastes slowly', () => {
    const effects = [...model.fit!.effects.berth!].sort((a, b) => a.mode - b.mode)
    const slow = planned({ from: asOf, to: null, berth: effects[0]!.level })
    const fast = planned({ from: asOf, to: null, berth: effects.at(-1)!.level })
    expect(slow.replace.p50!).toBeGreaterThan(fast.replace.p50!)
  })

  it('takes lifts that might be planned into the recommendation and the risk', () => {
    const on = now.replace.p10! - 10
    const plan = { stays: [], haulOuts: [{ on, relaunchedOn: null, planned: true }] }
    const then = forecastPlan(model, name, plan)!.get(anode.history.key)!
    expect(then).toMatchObject({ recommendedOn: on, nextHaulOut: { on, planned: true } })
    expect(then.riskBeforeNextHaulOut).toBeLessThan(0.11)
  })

  it('tells the risk at every planned lift, each no smaller than the one before', () => {
    const on = [30, 200, 200, 400, 900].map((days) => asOf + days)
    const haulOuts = on.map((day) => ({ on: day, relaunchedOn: null, planned: true }))
    const then = forecastPlan(model, name, { stays: [], haulOuts })!.get(anode.history.key)!
    expect(then.haulOutRisks.map((each) => each.on)).toEqual([...new Set(on)])
    expect(then.haulOutRisks[0]!.risk).toBe(then.riskBeforeNextHaulOut)
    const risks = then.haulOutRisks.map(({ risk }) => risk)
    expect([...risks].sort((a, b) => a - b)).toEqual(risks)
    // Dates and risks come from one curve: the chance of being due by the day of a quantile is the quantile, to the day's rounding.
    const byMedian = [now.replace.p50!, now.replace.p50! + 1].map((day) => ({
      on: day,
      relaunchedOn: null,
      planned: true,
    }))
    const [before, after] = forecastPlan(model, name, { stays: [], haulOuts: byMedian })!.get(
      anode.history.key,
    )!.haulOutRisks
    expect(before!.risk).toBeLessThanOrEqual(0.5)
    expect(after!.risk).toBeGreaterThanOrEqual(0.5)
    expect(now.haulOutRisks).toEqual([])
  })

  it('knows no boat that the fleet has not', () => {
    expect(forecastPlan(model, 'nobody', { stays: [], haulOuts: [] })).toBeNull()
  })
})
