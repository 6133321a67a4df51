import {
  fittingUseOf,
  type ProtectedFitting,
  protectionDemand,
} from '../../src/engine/electrochemistry/protection-demand.js'
import { designAlloy } from '../../src/engine/reference/anode-alloys.js'
import type { AnodeAlloy, Water } from '../../src/engine/reference/vocabulary.js'
import type { Draws } from './draws.js'
import type { Setting, ShapeName } from './setting.js'

/** A boat with all that is true of it, known to nobody. */
export interface TrueBoat {
  readonly name: string
  readonly hull: 'grp' | 'steel' | 'wood'
  readonly fittings: readonly ProtectedFitting[]
  /** Current at the coast's mean temperature in full salt water, new anodes [A]. */
  readonly currentA: number
  /** Change of the log of the current per °C. */
  readonly perDegree: number
  readonly isolator: boolean
  readonly shoreHours: number
  readonly places: readonly Place[]
  /** Log of the current's wandering, day by day. */
  readonly wandering: Float64Array
  readonly lifts: 'yearly' | 'half-yearly' | 'now and then'
  readonly wintersAshore: boolean
  /** Consumed fraction from which the owner has an anode replaced, and the years after which anyway. */
  readonly replacesAt: number
  readonly replacesAfterYears: number
  readonly arrivesAt: number
  readonly alloy: AnodeAlloy
}

/** Where an anode sits, and which kind is bought for it again and again. */
export interface Place {
  readonly label: string
  readonly shape: string
  /** Exponent of its current on its own volume left. */
  readonly exponent: number
  readonly coreShare: number
  readonly netMassG: number
  /** What the place does to its share of the current [log]. */
  readonly logEffect: number
}

interface PlaceKind {
  readonly label: string
  readonly shape: ShapeName
  readonly coreShare: number
  readonly share: number
}

const PLACE_KINDS: readonly PlaceKind[] = [
  { label: 'shaft', shape: 'shaft collar', coreShare: 0.03, share: 1 },
  { label: 'hull port', shape: 'plate', coreShare: 0.09, share: 1.3 },
  { label: 'hull starboard', shape: 'plate', coreShare: 0.09, share: 1.3 },
  { label: 'rudder', shape: 'disc', coreShare: 0.06, share: 0.6 },
  { label: 'propeller hub', shape: 'hub cone', coreShare: 0.08, share: 0.4 },
  { label: 'hull keel', shape: 'bar', coreShare: 0.1, share: 1.2 },
  { label: 'bow thruster', shape: 'ring', coreShare: 0.02, share: 0.3 },
]

const PLACE_CHANCE = 0.45
const HOURS_PER_DAY = 24
const GRAMS_PER_KILOGRAM = 1000
/** Sizes are sold in steps of a quarter. */
const SIZE_STEP = Math.log(1.25)

export interface BoatDraw {
  readonly index: number
  readonly water: Water
  readonly days: number
  readonly recordDays: number
  /** How far the coast's boats as a whole are from the published current densities [log]. */
  readonly coastLog: number
  readonly setting: Setting
}

export function makeBoat(draws: Draws, { index, water, days, recordDays, coastLog, setting }: BoatDraw): TrueBoat {
  const hull = draws.pick(['grp', 'grp', 'grp', 'grp', 'wood', 'steel'] as const)
  const fittings = makeFittings(draws, hull)
  const published = protectionDemand(fittings)
  if (published.kind === 'unknown') throw new Error('a simulated boat has metal under water')
  const currentA = published.currentA * Math.exp(coastLog) * draws.lognormal(setting.boatSd)
  const alloy = drawAlloy(draws, water)
  return {
    name: `Boat ${index + 1}`,
    hull,
    fittings,
    currentA,
    perDegree: setting.perDegree * draws.lognormal(0.35),
    isolator: draws.chance(0.4),
    shoreHours: draws.pick([0, 4, 12, 24]),
    places: makePlaces(draws, setting, Math.exp(coastLog) ** 0.8 * Math.sqrt(published.currentA * currentA), alloy),
    wandering: draws.wandering(days, setting.wanderingSd, setting.wanderingDays),
    lifts: draws.pick(setting.lifts),
    wintersAshore: draws.chance(0.35),
    replacesAt: draws.between(0.4, 0.65),
    replacesAfterYears: draws.pick([2, 3, Infinity, Infinity]),
    arrivesAt: arrival(draws, recordDays),
    alloy,
  }
}

/** Most boats have been there all the time; some came lately, a few just now. */
function arrival(draws: Draws, recordDays: number): number {
  if (draws.chance(0.07)) return recordDays - draws.whole(10, 60)
  return draws.chance(0.5) ? draws.whole(0, 200) : draws.whole(0, Math.max(201, recordDays - 200))
}

function drawAlloy(draws: Draws, water: Water): AnodeAlloy {
  if (water === 'salt') return draws.chance(0.7) ? 'zinc' : 'aluminium'
  if (water === 'brackish') return draws.chance(0.4) ? 'zinc' : 'aluminium'
  return draws.chance(0.7) ? 'magnesium' : 'aluminium'
}

function makeFittings(draws: Draws, hull: TrueBoat['hull']): ProtectedFitting[] {
  const size = draws.lognormal(0.35)
  const bare = (fitting: string, metal: ProtectedFitting['metal'], areaCm2: number): ProtectedFitting => ({
    fitting,
    metal,
    areaCm2: Math.round(areaCm2 * size * draws.lognormal(0.2)),
    coated: false,
    bonded: true,
    use: fittingUseOf(fitting),
  })
  const fittings = [
    bare('propeller', draws.pick(['manganese-bronze', 'nickel-aluminium-bronze'] as const), 1800),
    bare('propeller shaft', 'stainless-316-passive', 2200),
    bare('seacocks', 'tin-bronze-g-m', 600),
  ]
  if (hull === 'steel') fittings.push({ ...bare('hull', 'mild-steel', 220_000), coated: true })
  return fittings
}

function makePlaces(draws: Draws, setting: Setting, expectedCurrentA: number, alloy: AnodeAlloy): Place[] {
  // Every boat has its shaft; what else it has differs.
  const chosen = PLACE_KINDS.filter((_, index) => index === 0 || draws.chance(PLACE_CHANCE))
  const whole = chosen.reduce((sum, { share }) => sum + share, 0)
  // What the trade sizes for: half gone in about a year; few choose well.
  const lifeDays = 480 * draws.lognormal(0.3)
  const capacity = designAlloy(alloy).practicalAhPerKg
  return chosen.map(({ label, shape, coreShare, share }) => {
    const currentA = (expectedCurrentA * share) / whole
    const wantedG = (currentA * HOURS_PER_DAY * lifeDays * GRAMS_PER_KILOGRAM) / capacity / 0.5
    const step = Math.round(Math.log(wantedG * draws.lognormal(0.2)) / SIZE_STEP)
    return {
      label,
      shape,
      exponent: Math.max(0, setting.exponents[shape] + draws.normal(0.05)),
      coreShare: coreShare * draws.lognormal(0.3),
      netMassG: Math.exp(step * SIZE_STEP),
      logEffect: draws.normal(setting.placeSd),
    }
  })
}
