import { describe, expect, it } from 'vitest'
import { standingShifts } from '../../../../src/engine/diagnosis/detection/standing-shifts.js'
import { fitRates } from '../../../../src/engine/rates/fit-rates.js'
import type { FleetHistory } from '../../../../src/engine/rates/fleet-history.js'
import { simulateFleet, Uniform } from '../../simulated-fleet.js'
import { withFault } from './faulty-history.js'
import { berthsOf } from './searched-fleet.js'

const SPREAD = { boat: 0.2, berth: 0.1, anode: 0.1, residual: 0.2, scaleG: 2 }
const { fleet, asOf } = simulateFleet(new Uniform(8), 24, 5, SPREAD)
const STRUCK = fleet.boats[0]!.stays[0]!.berth!

/** All boats of one berth at a factor from their first day on. */
function shiftsAt(factor: number, history: FleetHistory = fleet) {
  const there = new Set(history.boats.filter(({ stays }) => stays[0]!.berth === STRUCK).map(({ boat }) => boat))
  const faulty = withFault(history, (boat) => there.has(boat), 0, factor)
  return standingShifts(fitRates(faulty, asOf), berthsOf(faulty))
}

const scoreAt = (factor: number) => shiftsAt(factor).get(`berth ${STRUCK}`)!.score

describe('standingShifts', () => {
  it('tells every berth that has losses', () => {
    const lived = new Set(fleet.boats.map(({ stays }) => stays[0]!.berth))
    expect(new Set(shiftsAt(1).keys())).toEqual(new Set([...lived].map((berth) => `berth ${berth}`)))
  })

  it('scores higher the faster a berth has always been', () => {
    const scores = [0.4, 0.7, 1, 1.4, 2].map(scoreAt)
    expect(scores).toEqual([...scores].sort((a, b) => a - b))
    const usual = scores[2]!
    expect(scores[0]).toBeLessThan(usual - 2)
    expect(scores[4]).toBeGreaterThan(usual + 2)
  })

  it('has the berth that stands out first, above all others', () => {
    const scores = [...shiftsAt(2)].sort(([, a], [, b]) => b.score - a.score)
    expect(scores[0]![0]).toBe(`berth ${STRUCK}`)
  })

  it('is the score of its evidence', () => {
    for (const { score, evidence } of shiftsAt(1.5).values()) {
      expect(evidence.information).toBeGreaterThan(0)
      expect(score).toBeCloseTo(evidence.response / Math.sqrt(evidence.information), 12)
    }
  })

  it('says the same whatever the order of the boats', () => {
    const turned = shiftsAt(1.6, { ...fleet, boats: [...fleet.boats].reverse() })
    for (const [place, { score }] of shiftsAt(1.6)) {
      // The fit settles to a fifth of a percent of a rate.
      expect(Math.abs(turned.get(place)!.score - score)).toBeLessThan(0.05)
    }
  })

  it('says nothing without a fit, of a berth nobody lay at, and where too few others are there to compare with', () => {
    const empty = fitRates({ ...fleet, boats: [] }, asOf)
    expect(standingShifts(empty, berthsOf(fleet)).size).toBe(0)
    const model = fitRates(fleet, asOf)
    const unknown = { scope: 'berth', name: 'Z9', berths: new Set(['Z9']), pontoon: null } as const
    expect(standingShifts(model, [unknown]).size).toBe(0)
    const everywhere = berthsOf(fleet).map(({ name }) => name)
    const whole = { scope: 'pontoon', name: 'all', berths: new Set(everywhere), pontoon: 'all' } as const
    expect(standingShifts(model, [whole]).size).toBe(0)
  })
})
