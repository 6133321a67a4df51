import { describe, expect, it } from 'vitest'
import { standoutsOf, weightsOfAnode } from '../../../src/engine/forecast/standouts.js'
import { fitRates } from '../../../src/engine/rates/fit-rates.js'
import type { FleetHistory } from '../../../src/engine/rates/fleet-history.js'
import { simulateFleet, Uniform } from '../simulated-fleet.js'

const SPREAD = { boat: 0.3, berth: 0.2, anode: 0.1, residual: 0.15, scaleG: 2 }

/** The fleet with one figure mistyped: the first weighing of an anode that lost most of what it had. */
function withSlip(fleet: FleetHistory): { fleet: FleetHistory; key: string; on: number } {
  const boat = fleet.boats[0]!
  const anode = boat.anodes.find(({ weighings }) => weighings.length > 0)!
  const weighing = anode.weighings[0]!
  const slipped = { ...weighing, judgement: { ...weighing.judgement, grossMassG: 110 } as typeof weighing.judgement }
  const anodes = boat.anodes.map((each) =>
    each === anode ? { ...each, weighings: [slipped, ...each.weighings.slice(1)] } : each,
  )
  return {
    fleet: { ...fleet, boats: [{ ...boat, anodes }, ...fleet.boats.slice(1)] },
    key: anode.key,
    on: weighing.on,
  }
}

describe('standoutsOf', () => {
  const { fleet, asOf } = simulateFleet(new Uniform(3), 30, 4, SPREAD)
  const slip = withSlip(fleet)
  const model = fitRates(slip.fleet, asOf)
  const standouts = standoutsOf(model)

  it('names the mistyped mass first, with a rate above the one expected', () => {
    const [first] = standouts
    expect(first).toMatchObject({ key: slip.key, on: slip.on, boat: 'B0' })
    expect(first!.logRate).toBeGreaterThan(first!.expected)
  })

  it('gives every interval a weight within 0 and 1, and names those below a half, the least counted first', () => {
    const keys = new Set(model.intervals.map(({ context }) => context.anode.history.key))
    const weights = [...keys].flatMap((key) => weightsOfAnode(model, key)).map(({ weight }) => weight)
    expect(weights).toHaveLength(model.intervals.length)
    for (const weight of weights) expect(weight > 0 && weight <= 1).toBe(true)
    const below = weights.filter((weight) => weight < 0.5).sort((a, b) => a - b)
    expect(standouts.map(({ weight }) => weight)).toEqual(below)
    expect(below.length).toBeLessThan(weights.length / 4)
  })
})
