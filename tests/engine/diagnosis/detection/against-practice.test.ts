import { describe, expect, it } from 'vitest'
import { detectAnomalies } from '../../../../src/engine/diagnosis/detection/detect.js'
import { fitRates } from '../../../../src/engine/rates/fit-rates.js'
import type { FleetHistory } from '../../../../src/engine/rates/fleet-history.js'
import { simulateFleet, Uniform } from '../../simulated-fleet.js'
import { factsOf } from './faulty-history.js'

/** Spreads in which nothing is wrong. */
const SPREAD = { boat: 0.35, berth: 0.2, anode: 0.15, residual: 0.2, scaleG: 2 }
const { fleet, asOf } = simulateFleet(new Uniform(11), 24, 6, SPREAD)

/** The same record with every day a third of one: all anodes of the fleet live a third as long. */
function hurried(history: FleetHistory): FleetHistory {
  const sooner = (day: number) => asOf - Math.round((asOf - day) / 3)
  return {
    ...history,
    boats: history.boats.map((boat) => ({
      ...boat,
      stays: boat.stays.map((stay) => ({
        ...stay,
        from: sooner(stay.from),
        to: stay.to === null ? null : sooner(stay.to),
      })),
      anodes: boat.anodes.map((anode) => ({
        ...anode,
        fittedOn: anode.fittedOn === null ? null : sooner(anode.fittedOn),
        removedOn: anode.removedOn === null ? null : sooner(anode.removedOn),
        weighings: anode.weighings.map((weighing) => ({ ...weighing, on: sooner(weighing.on) })),
      })),
    })),
  }
}

describe('againstPractice', () => {
  it('stays nearly silent in a fleet whose anodes all live shortly', () => {
    const short = hurried(fleet)
    const found = detectAnomalies(fitRates(short, asOf), factsOf(short), { falseDiscoveryRate: 0.05 })
    const byPractice = found.filter(({ adjustedP }) => adjustedP === null)
    const anodes = fleet.boats.reduce((sum, boat) => sum + boat.anodes.length, 0)
    expect(byPractice.length).toBeLessThan(anodes / 50)
  })

  it('still calls fast what is gone in weeks where there is nothing to compare with', () => {
    const [boat] = fleet.boats
    const [anode] = boat!.anodes
    const fitted = asOf - 60
    const gross = anode!.fittedGrossMassG!
    const core = anode!.coreMassG!
    const alone = {
      ...anode!,
      fittedOn: fitted,
      removedOn: null,
      weighings: [{ ...anode!.weighings[0]!, on: asOf - 10 }].map((weighing) => ({
        ...weighing,
        judgement: { ...weighing.judgement, grossMassG: core + 0.3 * (gross - core) },
      })),
    }
    const stays = [{ ...boat!.stays[0]!, from: fitted - 30, to: null }]
    const lone = { ...fleet, boats: [{ ...boat!, stays, haulOuts: [], anodes: [alone] }] } as FleetHistory
    const found = detectAnomalies(fitRates(lone, asOf), factsOf(lone), { falseDiscoveryRate: 0.05 })
    expect(found).toMatchObject([{ direction: 'fast', adjustedP: null, anodes: [alone.key] }])
  })
})
