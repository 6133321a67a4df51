import { describe, expect, it } from 'vitest'
import { type Chosen, chooseAnomalies } from '../../../../src/engine/diagnosis/detection/choose.js'
import { simulateFleet, Uniform } from '../../simulated-fleet.js'
import { withFault } from './faulty-history.js'
import { searchedFleet } from './searched-fleet.js'

const SPREAD = { boat: 0.35, berth: 0.2, anode: 0.15, residual: 0.2, scaleG: 2 }
const { fleet, asOf } = simulateFleet(new Uniform(11), 24, 6, SPREAD)
const SINCE = asOf - 2.5 * 365

/** Two faults of different kinds in one fleet. */
const faulty = withFault(
  withFault(fleet, (boat) => boat === 'B1', SINCE, 2.5),
  (boat, { position }) => boat === 'B5' && position === 'hull',
  SINCE,
  0.05,
)

const choose = (rate: number): Chosen[] => chooseAnomalies(searchedFleet(faulty, asOf).searches, rate)

const of = (chosen: readonly Chosen[], name: string) => chosen.filter(({ candidate }) => candidate.boat === name)

describe('chooseAnomalies', () => {
  const chosen = choose(0.05)

  it('takes each of two faults once, at the level that explains it', () => {
    expect(of(chosen, 'B1').map(({ candidate: { scope, score } }) => [scope, Math.sign(score)])).toEqual([['boat', 1]])
    expect(of(chosen, 'B5').map(({ candidate: { scope, score } }) => [scope, Math.sign(score)])).toEqual([
      ['anode', -1],
    ])
  })

  it('takes the strongest first', () => {
    const first = Math.abs(chosen[0]!.candidate.score)
    expect(first).toBe(Math.max(...chosen.map(({ candidate: { score } }) => Math.abs(score))))
  })

  it('takes none above the false discovery rate but what adds up as a drift', () => {
    for (const { adjustedP, candidate } of chosen) {
      expect(adjustedP).toBeGreaterThanOrEqual(candidate.p * 0.999)
      expect(candidate.isDrift || adjustedP <= 0.05).toBe(true)
    }
  })

  it('explains no loss twice where two anomalies are of one kind', () => {
    const losses = chosen.flatMap(({ candidate }) => candidate.losses)
    expect(new Set(losses).size).toBe(losses.length)
  })

  it('still finds both where fewer false ones are accepted', () => {
    for (const rate of [0.2, 0.01, 0.001]) {
      const found = choose(rate)
      expect(of(found, 'B1')).toHaveLength(1)
      expect(of(found, 'B5')).toHaveLength(1)
    }
  })

  it('says the same when asked again of the same fleet', () => {
    const essence = (each: Chosen) => [each.candidate.scope, each.candidate.boat, each.candidate.score, each.adjustedP]
    expect(choose(0.05).map(essence)).toEqual(chosen.map(essence))
  })
})
