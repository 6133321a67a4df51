import { describe, expect, it } from 'vitest'
import { fitRates } from '../../../src/engine/rates/fit-rates.js'
import type { AnodeHistory, FleetHistory } from '../../../src/engine/rates/fleet-history.js'
import { contextOf } from '../../../src/engine/rates/rate-intervals.js'
import { predictLogRate } from '../../../src/engine/rates/rate-model.js'
import { SIMULATION_START, simulateFleet, Uniform } from '../simulated-fleet.js'

const SPREAD = { boat: 0.35, berth: 0.2, anode: 0.15, residual: 0.2, scaleG: 2 }

/** A fleet with one anode's last weighing changed. */
function withLastMass(fleet: FleetHistory, key: string, change: (grossG: number) => number): FleetHistory {
  const changed = (anode: AnodeHistory): AnodeHistory => {
    const last = anode.weighings.at(-1)
    if (anode.key !== key || last?.judgement.method !== 'scale') return anode
    const judgement = { ...last.judgement, grossMassG: change(last.judgement.grossMassG) }
    return { ...anode, weighings: [...anode.weighings.slice(0, -1), { ...last, judgement }] }
  }
  return { ...fleet, boats: fleet.boats.map((boat) => ({ ...boat, anodes: boat.anodes.map(changed) })) }
}

describe('fitRates', () => {
  const { fleet, asOf } = simulateFleet(new Uniform(7), 40, 5, SPREAD)
  const model = fitRates(fleet, asOf)

  it('finds the components that the fleet was drawn with, as closely as forty boats tell', () => {
    const sd = (term: string) => Math.sqrt(model.variances[term]!)
    // Standard errors of a component from some 40 boats and 500 intervals: boat ±15 %, residual ±7 %; three of them.
    expect(sd('boat')).toBeGreaterThan(0.35 * 0.5)
    expect(sd('boat')).toBeLessThan(0.35 * 1.6)
    expect(sd('residual')).toBeGreaterThan(0.2 * 0.7)
    expect(sd('residual')).toBeLessThan(0.2 * 1.2)
  })

  it('gives the same answer whatever the order of boats, anodes and berths', () => {
    const turned: FleetHistory = {
      berths: [...fleet.berths].reverse(),
      boats: [...fleet.boats].reverse().map((boat) => ({ ...boat, anodes: [...boat.anodes].reverse() })),
    }
    const other = fitRates(turned, asOf)
    for (const [term, variance] of Object.entries(model.variances))
      expect(Math.abs(other.variances[term]! - variance)).toBeLessThan(1e-3 * (variance + 1e-3))
  })

  it('does not let one fault bend its boat: the interval loses its weight', () => {
    const victim = model.intervals.find(({ context }) => context.anode.states.length === 2)!
    const { key } = victim.context.anode.history
    const boat = model.boats.find(({ history }) => history.boat === victim.context.boat)!
    const neighbour = boat.anodes.find(({ history }) => history.position !== victim.context.anode.history.position)!
    const core = victim.context.anode.fitted.coreMassG
    const faulty = fitRates(
      withLastMass(fleet, key, (gross) => gross + 0.92 * (victim.context.anode.fitted.netMassG + core - gross)),
      asOf,
    )
    const row = faulty.intervals.findIndex(({ context }) => context.anode.history.key === key)
    expect(faulty.weights[row]).toBeLessThan(0.2)
    const target = (m: typeof model) => m.design.target(contextOf(boat, neighbour, asOf, asOf + 365))
    const shift = predictLogRate(faulty, target(faulty)).mean - predictLogRate(model, target(model)).mean
    // A normal fit would move the boat by the fault's log rate of −2.5 over some 12 intervals: 0.2.
    expect(Math.abs(shift)).toBeLessThan(0.1)
  })

  it('keeps a gain in mass as an observation of an anode that does nothing', () => {
    const anode = model.intervals[0]!.context.anode.history
    const gained = fitRates(
      withLastMass(fleet, anode.key, () => anode.fittedGrossMassG! + 4),
      asOf,
    )
    expect(gained.intervals.length).toBe(model.intervals.length)
    const row = gained.intervals.findLastIndex(({ context }) => context.anode.history.key === anode.key)
    expect(gained.logRates[row]).toBeLessThan(model.logRates[row]!)
    expect(gained.logRates.every(Number.isFinite)).toBe(true)
  })

  it('answers from the priors before the first interval, with common practice in the middle', () => {
    const anode: AnodeHistory = {
      key: 'a',
      anode: 'a',
      position: 'hull',
      alloy: 'zinc',
      shape: null,
      fittedOn: SIMULATION_START,
      removedOn: null,
      fittedGrossMassG: 1080,
      coreMassG: 80,
      dimensions: { lengthMm: null, widthMm: null, heightMm: null },
      threshold: 0.5,
      weighings: [],
    }
    const alone = fitRates(
      {
        berths: [{ berth: 'P', water: 'salt', latitude: null }],
        boats: [
          {
            boat: 'B',
            stays: [{ from: SIMULATION_START, to: null, berth: 'P' }],
            haulOuts: [],
            anodes: [anode],
            demandCurrentA: null,
          },
        ],
      },
      SIMULATION_START,
    )
    expect(alone.fit).toBeNull()
    const [boat] = alone.boats
    const target = alone.design.target(contextOf(boat!, boat!.anodes[0]!, SIMULATION_START, SIMULATION_START + 365))
    const lifeDays = 500 / Math.exp(predictLogRate(alone, target).mean)
    // Common practice: an anode of the right alloy and size in salt water lasts about a year (nine to eighteen months).
    expect(lifeDays).toBeGreaterThan(9 * 30)
    expect(lifeDays).toBeLessThan(18 * 31)
  })
})
