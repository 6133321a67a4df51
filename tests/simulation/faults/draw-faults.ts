import type { Cause } from '../../../src/engine/diagnosis/causes.js'
import type { AnodeAlloy } from '../../../src/engine/reference/vocabulary.js'
import type { TrueBoat } from '../boats.js'
import type { Draws } from '../draws.js'
import type { Berth } from '../sea.js'
import type { AbnormalWear } from './abnormal-wear.js'
import type { Fault } from './fault.js'

export interface FaultDraw {
  readonly boat: TrueBoat
  readonly home: Berth
  readonly recordDays: number
  readonly wear: AbnormalWear
}

/** Days of good wear before, and of bad wear after, that a fault from some day on has at least. */
const BEFORE_DAYS = 300
const AFTER_DAYS = 300
const SINCE_ALWAYS = 0.3

const NOTHING = {
  to: Infinity,
  places: [],
  factor: 1,
  alloy: null,
  suppressed: 1,
  isRepeated: false,
  berths: [],
  group: null,
} as const

/** Weights of the causes where they can happen at all: those that few boats can have are drawn more often. */
const WEIGHTS: Readonly<Partial<Record<Cause, (draw: FaultDraw) => number>>> = {
  'stray-current-onboard': () => 1,
  'wrong-alloy-for-water': ({ home, boat }) => (home.water === 'fresh' ? 5 : boat.alloy === 'magnesium' ? 0 : 0.6),
  'alloy-not-as-declared': () => 1,
  'no-electrical-contact': ({ boat }) => (boat.places.length > 1 ? 1 : 0),
  passivated: ({ home, boat }) => (home.water === 'salt' || boat.alloy === 'magnesium' ? 0 : 5),
  'mixed-alloys': ({ boat }) => (boat.places.length > 1 && boat.alloy !== 'magnesium' ? 1 : 0),
  undersized: () => 0.8,
  'mechanical-loss': () => 0.8,
}

/** A boat's own fault, or none. */
export function drawFault(draws: Draws, draw: FaultDraw): Fault | null {
  const isFaulty = draws.chance(draw.wear.faultyShare)
  const chosen = drawCause(draws, draw)
  const from = drawStart(draws, draw, chosen)
  if (!isFaulty || from === null) return null
  return FAULTS[chosen]!(draws, draw, from)
}

function drawCause(draws: Draws, draw: FaultDraw): Cause {
  const causes = (Object.keys(WEIGHTS) as Cause[]).map((cause) => ({ cause, weight: WEIGHTS[cause]!(draw) }))
  const whole = causes.reduce((sum, { weight }) => sum + weight, 0)
  let left = draws.between(0, whole)
  for (const { cause, weight } of causes) {
    if (left < weight) return cause
    left -= weight
  }
  return causes.at(-1)!.cause
}

function drawStart(draws: Draws, { boat, recordDays }: FaultDraw, cause: Cause): number | null {
  const [first, last] = [boat.arrivesAt + BEFORE_DAYS, recordDays - AFTER_DAYS]
  const isAlways = draws.chance(SINCE_ALWAYS) && cause !== 'mechanical-loss'
  const at = draws.between(0, 1)
  if (isAlways && boat.arrivesAt < last) return boat.arrivesAt
  return first < last ? Math.floor(first + at * (last - first)) : null
}

function scaled({ wear }: FaultDraw, factor: number): number {
  return factor ** wear.severity
}

function onePlace(draws: Draws, boat: TrueBoat): string[] {
  return [draws.pick(boat.places).label]
}

function allPlaces(boat: TrueBoat): string[] {
  return boat.places.map(({ label }) => label)
}

function moreActive(draws: Draws, alloy: AnodeAlloy): AnodeAlloy {
  return alloy === 'zinc' ? draws.pick(['aluminium', 'aluminium', 'magnesium'] as const) : 'magnesium'
}

/** What a less active anode keeps beside a more active one: they are far apart where magnesium is one of them. */
function suppression(draws: Draws, active: AnodeAlloy): number {
  return active === 'magnesium' ? draws.between(0.02, 0.15) : draws.between(0.1, 0.4)
}

type Maker = (draws: Draws, draw: FaultDraw, from: number) => Fault

const FAULTS: Readonly<Partial<Record<Cause, Maker>>> = {
  'stray-current-onboard': (draws, draw, from) => ({
    ...NOTHING,
    cause: 'stray-current-onboard',
    from,
    to: draws.chance(0.4) ? from + draws.whole(250, 900) : Infinity,
    places: allPlaces(draw.boat),
    factor: scaled(draw, 3 * draws.lognormal(0.35)),
  }),
  'wrong-alloy-for-water': (draws, draw, from) => ({
    ...NOTHING,
    cause: 'wrong-alloy-for-water',
    from,
    to: draws.chance(0.3) ? from + draws.whole(700, 1200) : Infinity,
    places: allPlaces(draw.boat),
    factor: draws.between(1.3, 2),
    alloy: draw.home.water === 'fresh' ? 'zinc' : 'magnesium',
  }),
  'alloy-not-as-declared': (draws, draw, from) => {
    const others = (['zinc', 'aluminium', 'magnesium'] as const).filter((alloy) => alloy !== draw.boat.alloy)
    const alloy = draws.pick(others)
    return {
      ...NOTHING,
      cause: 'alloy-not-as-declared',
      from,
      places: draws.chance(0.5) ? onePlace(draws, draw.boat) : allPlaces(draw.boat),
      factor: draws.between(1.3, 2),
      alloy,
      suppressed: suppression(draws, alloy),
      isRepeated: draws.chance(0.65),
    }
  },
  'no-electrical-contact': (draws, draw, from) => ({
    ...NOTHING,
    cause: 'no-electrical-contact',
    from,
    places: onePlace(draws, draw.boat),
    factor: scaled(draw, draws.between(0.01, 0.15)),
  }),
  passivated: (draws, draw, from) => ({
    ...NOTHING,
    cause: 'passivated',
    from,
    places: draws.chance(0.5) ? onePlace(draws, draw.boat) : allPlaces(draw.boat),
    factor: scaled(draw, draws.between(0.05, 0.35)),
  }),
  'mixed-alloys': (draws, draw, from) => {
    const alloy = moreActive(draws, draw.boat.alloy)
    return {
      ...NOTHING,
      cause: 'mixed-alloys',
      from,
      places: onePlace(draws, draw.boat),
      alloy,
      suppressed: suppression(draws, alloy),
      isRepeated: draws.chance(0.65),
    }
  },
  undersized: (draws, draw, from) => ({
    ...NOTHING,
    cause: 'undersized',
    from,
    places: draws.chance(0.4) ? onePlace(draws, draw.boat) : allPlaces(draw.boat),
    factor: scaled(draw, draws.between(0.2, 0.4)),
  }),
  'mechanical-loss': (draws, draw, from) => ({
    ...NOTHING,
    cause: 'mechanical-loss',
    from,
    places: onePlace(draws, draw.boat),
    factor: draws.chance(0.35) ? 0 : draws.between(0.1, 0.55),
  }),
}

/** What befalls a pontoon or a berth: at most one of each kind in a marina, on different pontoons. */
export function drawGroupFaults(
  draws: Draws,
  berths: readonly Berth[],
  recordDays: number,
  wear: AbnormalWear,
): Fault[] {
  const pontoons = [...new Set(berths.map(({ pontoon }) => pontoon))]
  const faults: Fault[] = []
  const first = draws.whole(0, pontoons.length)
  const shore = berths.filter(({ pontoon, shorePower }) => pontoon === pontoons[first] && shorePower)
  const from = draws.whole(300, recordDays - AFTER_DAYS)
  if (draws.chance(wear.groupChance) && shore.length > 0)
    faults.push({
      ...NOTHING,
      cause: 'stray-current-shore',
      from,
      to: draws.chance(0.5) ? from + draws.whole(300, 1000) : Infinity,
      factor: (5 * draws.lognormal(0.3)) ** wear.severity,
      berths: shore.map(({ name }) => name),
      group: faults.length,
    })
  if (draws.chance(wear.groupChance) && pontoons.length > 1) {
    const pontoon = berths.filter((berth) => berth.pontoon === pontoons[(first + 1) % pontoons.length])
    const where = draws.chance(0.5) ? [draws.pick(pontoon)] : pontoon
    const log = draws.between(0.55, 1.1) * draws.pick([1, 1, -1] as const)
    faults.push({
      ...NOTHING,
      cause: 'berth-environment',
      from: draws.chance(0.5) ? 0 : draws.whole(300, recordDays - AFTER_DAYS),
      factor: Math.exp(log * wear.severity),
      berths: where.map(({ name }) => name),
      group: faults.length,
    })
  }
  return faults
}
