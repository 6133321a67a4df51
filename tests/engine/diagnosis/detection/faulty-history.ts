import type { FleetFacts } from '../../../../src/engine/diagnosis/fleet-facts.js'
import type { AnodeHistory, FleetHistory } from '../../../../src/engine/rates/fleet-history.js'

/** A fleet whose losses are multiplied where and when a fault acts; no mass falls below a tenth of the net one. */
export function withFault(
  fleet: FleetHistory,
  isStruck: (boat: string, anode: AnodeHistory) => boolean,
  since: number,
  factor: number,
): FleetHistory {
  return {
    ...fleet,
    boats: fleet.boats.map((boat) => ({
      ...boat,
      anodes: boat.anodes.map((anode) => (isStruck(boat.boat, anode) ? worn(anode, since, factor) : anode)),
    })),
  }
}

function worn(anode: AnodeHistory, since: number, factor: number): AnodeHistory {
  const core = anode.coreMassG!
  const least = core + 0.1 * (anode.fittedGrossMassG! - core)
  let before = { on: anode.fittedOn!, mass: anode.fittedGrossMassG! }
  let mass = before.mass
  const weighings = anode.weighings.map(({ on, judgement }) => {
    if (judgement.method !== 'scale') throw new Error('these fleets are weighed on scales')
    const share = Math.max(0, Math.min(1, (on - since) / (on - before.on)))
    mass = Math.max(least, mass - (before.mass - judgement.grossMassG) * (1 + share * (factor - 1)))
    before = { on, mass: judgement.grossMassG }
    return { on, judgement: { ...judgement, grossMassG: mass } }
  })
  return { ...anode, weighings }
}

/** Pontoons of so many berths each, in order of the fleet. */
export function factsOf(fleet: FleetHistory, berthsAPontoon = 4): FleetFacts {
  return {
    berths: fleet.berths.map(({ berth, water }, index) => ({
      berth,
      pontoon: `Pontoon ${Math.floor(index / berthsAPontoon)}`,
      water,
      salinityPsu: null,
      hasShorePower: null,
    })),
    boats: [],
  }
}
