import { describe, expect, it } from 'vitest'
import type { Anomaly } from '../../../../src/engine/diagnosis/anomaly.js'
import { detectAnomalies } from '../../../../src/engine/diagnosis/detection/detect.js'
import { OutOfRange } from '../../../../src/engine/errors.js'
import { fitRates } from '../../../../src/engine/rates/fit-rates.js'
import type { BoatHistory, FleetHistory } from '../../../../src/engine/rates/fleet-history.js'
import { simulateFleet, Uniform } from '../../simulated-fleet.js'
import { factsOf, withFault } from './faulty-history.js'

const SPREAD = { boat: 0.35, berth: 0.2, anode: 0.15, residual: 0.2, scaleG: 2 }
const OPTIONS = { falseDiscoveryRate: 0.05 }
const { fleet, asOf } = simulateFleet(new Uniform(11), 24, 6, SPREAD)
const SINCE = asOf - 2.5 * 365

/** What stands out among its like: common practice, which knows no fleet, left out. */
function detect(history: FleetHistory): Anomaly[] {
  const found = detectAnomalies(fitRates(history, asOf), factsOf(history), OPTIONS)
  return found.filter(({ adjustedP }) => adjustedP !== null)
}

function expectSound(found: readonly Anomaly[]): void {
  for (const { surprise, adjustedP, logRatio, shares, onset } of found) {
    const numbers = [surprise, adjustedP ?? 0, logRatio?.mean ?? 0, logRatio?.sd ?? 0, ...Object.values(onset ?? {})]
    expect(numbers.every(Number.isFinite)).toBe(true)
    expect(Object.values(shares).reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 10)
    expect(Math.min(...Object.values(shares))).toBeGreaterThanOrEqual(-1e-12)
    if (onset !== null) {
      expect(onset.p10).toBeLessThanOrEqual(onset.p50)
      expect(onset.p50).toBeLessThanOrEqual(onset.p90)
    }
  }
}

describe('detectAnomalies', () => {
  it('raises at most one false alarm in 150 anode-years where nothing is wrong', () => {
    const fleets = [21, 22, 23, 24].map((start) => simulateFleet(new Uniform(start), 24, 6, SPREAD))
    let years = 0
    let found = 0
    for (const each of fleets) {
      const model = fitRates(each.fleet, each.asOf)
      years += model.intervals.reduce((sum, { from, to }) => sum + (to.on - from.on) / 365, 0)
      const anomalies = detectAnomalies(model, factsOf(each.fleet), OPTIONS)
      expectSound(anomalies)
      found += anomalies.filter(({ adjustedP }) => adjustedP !== null).length
    }
    expect(years).toBeGreaterThan(600)
    expect(found).toBeLessThanOrEqual(years / 150)
  })

  it('finds a boat whose anodes all go twice as fast from some day: once, as the boat, about that day', () => {
    const found = detect(withFault(fleet, (boat) => boat === 'B1', SINCE, 2.2))
    expectSound(found)
    const own = found.filter(({ boat }) => boat === 'B1')
    expect(own).toHaveLength(1)
    const [anomaly] = own
    expect(anomaly).toMatchObject({ scope: 'boat', direction: 'fast' })
    expect(anomaly!.surprise).toBeGreaterThan(3)
    expect(Math.abs(anomaly!.onset!.p50 - SINCE)).toBeLessThan(300)
    expect(Math.abs(anomaly!.logRatio!.mean - Math.log(2.2))).toBeLessThan(3 * anomaly!.logRatio!.sd)
    expect(anomaly!.shares.boat).toBeGreaterThan(0.5)
  })

  it('finds an anode that all but stops while its neighbours go on: slow counts as much as fast', () => {
    const found = detect(withFault(fleet, (boat, { position }) => boat === 'B5' && position === 'hull', SINCE, 0.05))
    expectSound(found)
    const own = found.filter(({ boat }) => boat === 'B5')
    expect(own).toHaveLength(1)
    expect(own[0]).toMatchObject({ scope: 'anode', direction: 'slow' })
    expect(own[0]!.shares.anode).toBeGreaterThan(0.5)
  })

  it('finds an anode that never worked, from its first day: no onset', () => {
    const found = detect(withFault(fleet, (boat, { position }) => boat === 'B7' && position === 'rudder', 0, 0.05))
    const own = found.filter(({ boat }) => boat === 'B7')
    expect(own).toHaveLength(1)
    expect(own[0]).toMatchObject({ scope: 'anode', direction: 'slow', onset: null })
  })

  it('takes what all boats of a berth share for the berth: one anomaly, not one for each', () => {
    const atBerth = new Set(fleet.boats.filter(({ stays }) => stays[0]!.berth === 'P7').map(({ boat }) => boat))
    expect(atBerth.size).toBeGreaterThan(2)
    const found = detect(withFault(fleet, (boat) => atBerth.has(boat), SINCE, 2.2))
    expectSound(found)
    const own = found.filter(({ anodes }) => anodes.some((key) => atBerth.has(key.split('/')[0]!)))
    expect(own).toHaveLength(1)
    expect(own[0]).toMatchObject({ scope: 'berth', berth: 'P7', boat: null, direction: 'fast' })
  })

  it('says the same whatever the order of boats, anodes and berths', () => {
    const faulty = withFault(fleet, (boat) => boat === 'B1', SINCE, 2.2)
    const turned: FleetHistory = {
      berths: [...faulty.berths].reverse(),
      boats: [...faulty.boats].reverse().map((boat) => ({ ...boat, anodes: [...boat.anodes].reverse() })),
    }
    const facts = factsOf(faulty)
    const [one, other] = [faulty, turned].map((history) => detectAnomalies(fitRates(history, asOf), facts, OPTIONS))
    const essence = ({ scope, boat, berth, direction, anodes, surprise }: Anomaly) => [
      [scope, boat, berth, direction, ...[...anodes].sort()].join(' '),
      // The fit settles to a fifth of a percent of a rate.
      Math.round(surprise * 10) / 10,
    ]
    const sorted = (found: readonly Anomaly[]) => found.map(essence).map(String).sort()
    expect(sorted(one!)).toEqual(sorted(other!))
  })

  it('refuses a rate that is none', () => {
    const model = fitRates(fleet, asOf)
    expect(() => detectAnomalies(model, factsOf(fleet), { falseDiscoveryRate: 0 })).toThrow(OutOfRange)
    expect(() => detectAnomalies(model, factsOf(fleet), { falseDiscoveryRate: Number.NaN })).toThrow(OutOfRange)
  })
})

describe('detectAnomalies where there is little to go by', () => {
  const [boat] = fleet.boats as [BoatHistory, ...BoatHistory[]]
  const anode = boat.anodes.find(({ weighings }) => weighings.length > 1)!
  const only = (boats: readonly BoatHistory[]): FleetHistory => ({ berths: fleet.berths, boats })
  const sameLoss = (lossG: number): FleetHistory =>
    only(
      fleet.boats.map((each) => ({
        ...each,
        anodes: each.anodes.map((own) => ({
          ...own,
          weighings: own.weighings.map(({ on }, at) => {
            const grossMassG = own.fittedGrossMassG! - (at + 1) * lossG
            return { on, judgement: { method: 'scale' as const, grossMassG, resolutionG: 1, cleaned: true } }
          }),
        })),
      })),
    )

  it.each<[string, FleetHistory]>([
    ['no boat', only([])],
    ['no interval', only([{ ...boat, anodes: boat.anodes.map((own) => ({ ...own, weighings: [] })) }])],
    ['one boat', only([boat])],
    ['one anode', only([{ ...boat, anodes: [anode] }])],
    ['one interval', only([{ ...boat, anodes: [{ ...anode, weighings: anode.weighings.slice(0, 1) }] }])],
    ['no berth', { berths: [], boats: fleet.boats.map((each) => ({ ...each, stays: [] })) }],
    ['the same loss everywhere', sameLoss(60)],
    ['gains alone', sameLoss(-40)],
  ])('%s: nothing is made up', (_, history) => {
    const found = detectAnomalies(fitRates(history, asOf), factsOf(history), OPTIONS)
    expectSound(found)
    expect(found.filter(({ adjustedP }) => adjustedP !== null)).toHaveLength(0)
  })
})
