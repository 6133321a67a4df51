import type { AnodeHistory, BoatHistory, DatedJudgement, FleetHistory } from '../../src/engine/rates/fleet-history.js'

/** A small generator of uniform numbers, for tests alone (Park and Miller, Comm. ACM 31 (1988) 1192–1201). */
export class Uniform {
  #state: number

  constructor(start: number) {
    this.#state = (start % 2147483646) + 1
  }

  next(): number {
    this.#state = (this.#state * 48271) % 2147483647
    return this.#state / 2147483647
  }

  normal(): number {
    return Math.sqrt(-2 * Math.log(this.next())) * Math.cos(2 * Math.PI * this.next())
  }

  pick<T>(list: readonly T[]): T {
    return list[Math.floor(this.next() * list.length)]!
  }
}

/** Standard deviations of the log rate, and of a scale [g], that the simulated truth has. */
export interface SimulatedSpread {
  readonly boat: number
  readonly berth: number
  readonly anode: number
  readonly residual: number
  readonly scaleG: number
}

export interface SimulatedAnode {
  readonly key: string
  /** The day on which its net mass truly passes the threshold, along the boat's berth on and on. */
  readonly crossesOn: number
}

export const SIMULATION_START = 18_000

/**
 * A fleet drawn from the rate model itself: zinc and aluminium, salt water, one berth a boat, anodes weighed yearly on a
 * scale and replaced when half is gone. The last interval is still running at `asOf`.
 */
export function simulateFleet(random: Uniform, boatCount: number, years: number, spread: SimulatedSpread) {
  const berthCount = Math.max(2, Math.round(boatCount / 3))
  const berthEffects = Array.from({ length: berthCount }, () => spread.berth * random.normal())
  const asOf = SIMULATION_START + years * 365
  const truths: SimulatedAnode[] = []
  const boats = Array.from({ length: boatCount }, (_, index): BoatHistory => {
    const berth = Math.floor(random.next() * berthCount)
    const logBoat = Math.log(1.3) + spread.boat * random.normal() + berthEffects[berth]!
    const anodes = ['shaft', 'hull', 'rudder'].flatMap((position) =>
      simulatePosition(random, { boat: `B${index}`, position, logBoat, asOf, spread, truths }),
    )
    return {
      boat: `B${index}`,
      stays: [{ from: SIMULATION_START, to: null, berth: `P${berth}` }],
      haulOuts: [],
      anodes,
      demandCurrentA: null,
    }
  })
  const berths = berthEffects.map((_, berth) => ({ berth: `P${berth}`, water: 'salt' as const, latitude: 50 }))
  return { fleet: { berths, boats } satisfies FleetHistory, asOf, truths }
}

interface Place {
  readonly boat: string
  readonly position: string
  readonly logBoat: number
  readonly asOf: number
  readonly spread: SimulatedSpread
  readonly truths: SimulatedAnode[]
}

const DAYS_BETWEEN_LIFTS = 330

function simulatePosition(random: Uniform, place: Place): AnodeHistory[] {
  const { asOf, spread } = place
  const anodes: AnodeHistory[] = []
  let day = SIMULATION_START + Math.floor(random.next() * 200)
  while (day < asOf) {
    const { anode, endedOn } = simulateAnode(random, place, day, anodes.length)
    anodes.push(anode)
    day = endedOn ?? Infinity
  }
  void spread
  return anodes
}

function simulateAnode(random: Uniform, place: Place, fittedOn: number, index: number) {
  const { boat, position, logBoat, asOf, spread, truths } = place
  const alloy = random.pick(['zinc', 'zinc', 'aluminium'] as const)
  const netG = random.pick([600, 1000, 1600])
  const coreMassG = 0.08 * netG
  const key = `${boat}/${position}${index}`
  const logRate = logBoat + (alloy === 'zinc' ? 0 : -0.9) + 0.9 * Math.log(netG / 1000) + spread.anode * random.normal()
  const weighings: DatedJudgement[] = []
  let mass = netG
  let day = fittedOn
  let endedOn: number | null = null
  for (;;) {
    const rate = Math.exp(logRate + spread.residual * random.normal())
    const next = day + DAYS_BETWEEN_LIFTS + Math.floor(random.next() * 60)
    if (next > asOf) {
      truths.push({ key, crossesOn: day + (mass - 0.5 * netG) / rate })
      break
    }
    mass = Math.max(0, mass - rate * (next - day))
    day = next
    const grossMassG = mass + coreMassG + spread.scaleG * random.normal()
    weighings.push({ on: day, judgement: { method: 'scale', grossMassG, resolutionG: 1, cleaned: true } })
    if (mass < 0.5 * netG) {
      endedOn = day
      break
    }
  }
  const anode: AnodeHistory = {
    key,
    anode: key,
    position,
    alloy,
    shape: null,
    fittedOn,
    removedOn: endedOn,
    fittedGrossMassG: netG + coreMassG,
    coreMassG,
    dimensions: { lengthMm: null, widthMm: null, heightMm: null },
    threshold: 0.5,
    weighings,
  }
  return { anode, endedOn }
}
