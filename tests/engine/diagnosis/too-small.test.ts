import { describe, expect, it } from 'vitest'
import { detectAnomalies } from '../../../src/engine/diagnosis/detection/detect.js'
import { viewFleet } from '../../../src/engine/diagnosis/evidence/fleet-view.js'
import { gatherEvidence } from '../../../src/engine/diagnosis/evidence/gather.js'
import { sceneOf } from '../../../src/engine/diagnosis/evidence/scene.js'
import { fitRates } from '../../../src/engine/rates/fit-rates.js'
import type { AnodeHistory, FleetHistory } from '../../../src/engine/rates/fleet-history.js'
import { simulateFleet, Uniform } from '../simulated-fleet.js'
import { factsOf } from './detection/faulty-history.js'

/** Spreads in which nothing is wrong. */
const SPREAD = { boat: 0.2, berth: 0.1, anode: 0.1, residual: 0.1, scaleG: 2 }
const { fleet, asOf } = simulateFleet(new Uniform(5), 24, 6, SPREAD)

/** A year in place between two lifts, of which a share of the net mass is left. */
function yearOf(like: AnodeHistory, key: string, year: number, netG: number, left: number): AnodeHistory {
  const fittedOn = asOf - 365 * year - 30
  const core = like.coreMassG ?? 0
  const [weighing] = like.weighings
  return {
    ...like,
    key,
    anode: key,
    fittedOn,
    removedOn: year > 0 ? fittedOn + 365 : null,
    fittedGrossMassG: core + netG,
    weighings:
      year === 0
        ? []
        : [{ ...weighing!, on: fittedOn + 365, judgement: { ...weighing!.judgement, grossMassG: core + left * netG } }],
  } as AnodeHistory
}

/** The fleet with its first boat's anodes at one place: the masses when new, the latest last. */
function withSuccession(masses: readonly number[], left: number): { history: FleetHistory; keys: string[] } {
  const [boat, ...others] = fleet.boats
  const like = boat!.anodes.find(({ weighings }) => weighings.length > 0)!
  const anodes = masses.map((mass, i) => yearOf(like, `${like.key}#${i}`, masses.length - 1 - i, mass, left))
  const stays = [{ ...boat!.stays[0]!, from: asOf - 365 * masses.length - 60, to: null }]
  const history = { ...fleet, boats: [{ ...boat!, stays, haulOuts: [], anodes }, ...others] } as FleetHistory
  return { history, keys: anodes.map(({ key }) => key) }
}

/** What the record says of one anode, whatever its rate. */
function evidenceOn(history: FleetHistory, key: string) {
  const facts = factsOf(history)
  const view = viewFleet(fitRates(history, asOf), facts)
  const anomaly = {
    scope: 'anode' as const,
    boat: history.boats[0]!.boat,
    berth: null,
    pontoon: null,
    anodes: [key],
    direction: 'fast' as const,
    noticedBy: 'interval' as const,
    onset: null,
    surprise: 3,
    adjustedP: 0.01,
    logRatio: { mean: 1, sd: 0.3 },
    shares: { anode: 1, boat: 0, berth: 0, pontoon: 0 },
  }
  return new Map(gatherEvidence(sceneOf(anomaly, view), []).map(({ observation, state }) => [observation, state]))
}

const usual = (fleet.boats[0]!.anodes[0]!.fittedGrossMassG ?? 0) - (fleet.boats[0]!.anodes[0]!.coreMassG ?? 0)

describe('an anode that is spent within a year', () => {
  it('is told where it is far smaller than what sat there before', () => {
    const { history, keys } = withSuccession([usual, usual, 0.3 * usual, 0.3 * usual], 0.1)
    const found = detectAnomalies(fitRates(history, asOf), factsOf(history), { falseDiscoveryRate: 0.05 })
    expect(found.some(({ anodes, direction }) => direction === 'fast' && anodes.includes(keys[2]!))).toBe(true)
  })

  it('is smaller by what sits on other boats too, where all that ever sat there was small', () => {
    const { history, keys } = withSuccession([0.1 * usual, 0.1 * usual, 0.1 * usual], 0.1)
    expect(evidenceOn(history, keys[1]!).get('mass-fitted')).toBe('smaller')
  })
})

describe('the mass that a mould gives', () => {
  // Densities of `anode-alloys.csv`: zinc over aluminium is about 2.6.
  it('tells an anode of another alloy by its mass beside its like', () => {
    const { history, keys } = withSuccession([usual, usual, 2.6 * usual, usual], 0.5)
    const declared = history.boats[0]!.anodes[0]!.alloy
    expect(declared).toBe('aluminium')
    expect(evidenceOn(history, keys[2]!).get('mould-mass')).toBe('another')
    expect(evidenceOn(history, keys[1]!).get('mould-mass')).toBe('declared')
  })

  it('says nothing of another size, nor of an anode without any like', () => {
    const sizes = withSuccession([usual, usual, 0.45 * usual, usual], 0.5)
    expect(evidenceOn(sizes.history, sizes.keys[2]!).has('mould-mass')).toBe(false)
    const single = withSuccession([usual], 0.5)
    expect(evidenceOn(single.history, single.keys[0]!).has('mould-mass')).toBe(false)
  })
})
