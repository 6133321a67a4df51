import { describe, expect, it } from 'vitest'
import { backtestAt, type OriginScores } from '../../../src/engine/backtest/backtest.js'
import { robustLine, straightLine } from '../../../src/engine/backtest/baselines.js'
import { rollingOrigins } from '../../../src/engine/backtest/rolling-origins.js'
import { backtestReport } from '../../../src/engine/backtest/summary.js'
import type { FleetHistory } from '../../../src/engine/rates/fleet-history.js'
import type { ObservedAnode } from '../../../src/engine/rates/mass-states.js'
import { SIMULATION_START, simulateFleet, Uniform } from '../simulated-fleet.js'

const SPREAD = { boat: 0.35, berth: 0.2, anode: 0.15, residual: 0.2, scaleG: 2 }

function until(history: FleetHistory, day: number): FleetHistory {
  return {
    ...history,
    boats: history.boats.map((boat) => ({
      ...boat,
      anodes: boat.anodes.map((anode) => ({ ...anode, weighings: anode.weighings.filter(({ on }) => on <= day) })),
    })),
  }
}

describe('backtestAt', () => {
  const { fleet, asOf } = simulateFleet(new Uniform(11), 24, 5, SPREAD)
  const origins = rollingOrigins(fleet, { everyDays: 365, count: 3 })
  const scores = origins.map((origin) => backtestAt(fleet, origin, asOf))
  const report = backtestReport(scores)

  it('scores what came after each origin and nothing before', () => {
    expect(origins).toHaveLength(3)
    for (const { origin, weighings } of scores) {
      expect(weighings.length).toBeGreaterThan(10)
      for (const { on, horizonDays } of weighings) {
        expect(on).toBeGreaterThan(origin)
        expect(horizonDays).toBe(on - origin)
      }
    }
  })

  it('forecasts without a look ahead: what was found later still changes no score', () => {
    const origin = origins[1]!
    const horizon = origin + 300
    const upTo = (result: OriginScores) => result.weighings.filter(({ on }) => on <= horizon)
    expect(upTo(backtestAt(until(fleet, horizon), origin, asOf))).toEqual(upTo(scores[1]!))
  })

  it('finds the weighings of a fleet of its own model inside the intervals as often as they say', () => {
    const { weighings, inside80, inside90, bias } = report.overall
    expect(weighings).toBeGreaterThan(100)
    // Three standard errors of a share from a hundred weighings, those of one boat alike: 0.8 ± 0.15 and 0.9 ± 0.11.
    expect(Math.abs(inside80! - 0.8)).toBeLessThan(0.15)
    expect(inside90!).toBeGreaterThan(0.79)
    expect(Math.abs(bias!)).toBeLessThan(0.5)
  })

  it('beats the straight line and the rule of one year, whose single numbers cannot know better than the model that drew them', () => {
    const { crps, lineCrps, robustCrps, ruleCrps } = report.overall
    expect(crps!).toBeLessThan(lineCrps!)
    expect(crps!).toBeLessThan(robustCrps!)
    expect(crps!).toBeLessThan(ruleCrps!)
  })

  it('puts each weighing into one group of a kind', () => {
    const { overall, byHistory, byHorizon, byWater, byAlloy } = report
    for (const groups of [byHistory, byHorizon, byWater, byAlloy]) {
      expect(groups.reduce((sum, { weighings }) => sum + weighings, 0)).toBe(overall.weighings)
      expect(groups.reduce((sum, { lives }) => sum + lives, 0)).toBe(overall.lives)
    }
  })
})

describe('backtestAt of an anode that wears by a straight line', () => {
  // 1000 g of zinc lose 1 g a day, weighed without an error: half is gone 500 days after fitting, whatever the model.
  const fitted = SIMULATION_START
  const weighings = [200, 400, 600].map((days) => ({
    on: fitted + days,
    judgement: { method: 'scale' as const, grossMassG: 1000 - days, resolutionG: 1, cleaned: true },
  }))
  const history: FleetHistory = {
    // At the equator the seasons are next to nothing.
    berths: [{ berth: 'P', water: 'salt', latitude: 0 }],
    boats: [
      {
        boat: 'B',
        stays: [{ from: fitted, to: null, berth: 'P' }],
        haulOuts: [],
        demandCurrentA: null,
        anodes: [
          {
            key: 'a',
            anode: 'a',
            position: 'shaft',
            alloy: 'zinc',
            shape: null,
            fittedOn: fitted,
            removedOn: null,
            fittedGrossMassG: 1000,
            coreMassG: 0,
            dimensions: { lengthMm: null, widthMm: null, heightMm: null },
            threshold: 0.5,
            weighings,
          },
        ],
      },
    ],
  }
  const { weighings: scores, lives } = backtestAt(history, fitted + 400, fitted + 601)

  it('finds the crossing between its weighings, and the line through the last two there', () => {
    expect(lives).toHaveLength(1)
    expect(Math.abs(lives[0]!.lifeDays - 100)).toBeLessThan(5)
    expect(Math.abs(lives[0]!.lineLogError)).toBeLessThan(0.05)
    expect(Math.abs(lives[0]!.robustLogError)).toBeLessThan(0.05)
  })

  it('scores the rule of one year by the life it gives: over since 35 days, so at the shortest', () => {
    expect(lives[0]!.ruleLogError).toBeCloseTo(Math.log(30 / lives[0]!.lifeDays), 9)
  })

  it('scores the line by its absolute error, the model by less than the width of its doubt', () => {
    expect(scores).toHaveLength(1)
    // Seasons at the equator, and the 5 g that a new anode's mass may be off, are all that is left.
    expect(scores[0]!.lineErrorG).toBeLessThan(12)
    expect(Math.abs(scores[0]!.model.errorG)).toBeLessThan(60)
  })
})

describe('a straight line through masses of which one was misread', () => {
  const states = [0, 100, 200, 300, 400].map((exposureDays) => ({
    on: SIMULATION_START + exposureDays,
    exposureDays,
    // 1 g a day of 1000 g; the last one slipped by 200 g.
    consumption: exposureDays + (exposureDays === 400 ? 200 : 0),
    variance: 1,
    spent: false,
  }))
  const anode = { exponent: 0, fitted: { netMassG: 1000 }, states } as unknown as ObservedAnode

  it('bends to it through the last two, and does not through all of them', () => {
    expect(straightLine(anode, 0.001).perDay).toBeCloseTo(0.003, 9)
    const { perDay, consumed } = robustLine(anode, 0.001)
    expect(perDay).toBeCloseTo(0.001, 9)
    expect(consumed).toBeCloseTo(0.4, 9)
  })

  it('goes on at the pace of the fleet where it knows one mass, or none was lost', () => {
    expect(robustLine({ ...anode, states: states.slice(0, 1) } as ObservedAnode, 0.002).perDay).toBe(0.002)
    const gained = states.map((state) => ({ ...state, consumption: -state.consumption }))
    expect(robustLine({ ...anode, states: gained } as ObservedAnode, 0.002).perDay).toBe(0.002)
  })
})

describe('rollingOrigins', () => {
  it('has none for a fleet that nobody weighed', () => {
    expect(rollingOrigins({ berths: [], boats: [] }, { everyDays: 180 })).toEqual([])
  })
})
