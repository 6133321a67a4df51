import type { Water } from '../../src/engine/reference/vocabulary.js'
import type { Draws } from './draws.js'
import type { Setting } from './setting.js'

/** A kind of coast: how cold its water is and which waters its berths have. */
export interface Coast {
  readonly latitude: number
  readonly meanTemperatureC: number
  /** Half of the yearly swing [°C]. */
  readonly swingC: number
  /** Shares of salt, brackish and fresh berths. */
  readonly waters: readonly [salt: number, brackish: number, fresh: number]
}

export const COASTS = {
  temperate: { latitude: 50.3, meanTemperatureC: 12.5, swingC: 4.5, waters: [0.8, 0.15, 0.05] },
  enclosed: { latitude: 57.5, meanTemperatureC: 9, swingC: 8.5, waters: [0.35, 0.55, 0.1] },
  warm: { latitude: 37.5, meanTemperatureC: 19, swingC: 5.5, waters: [0.95, 0.05, 0] },
  southern: { latitude: -36.5, meanTemperatureC: 17.5, swingC: 3.5, waters: [0.85, 0.15, 0] },
} as const satisfies Record<string, Coast>

export interface Berth {
  readonly name: string
  readonly pontoon: string
  readonly water: Water
  readonly salinityPsu: number
  readonly latitude: number
  readonly shorePower: boolean
  readonly isVisited: boolean
  /** What its water and flow do to the current [log]. */
  readonly logEffect: number
  /** What a connected shore lead adds to the current of a boat without an isolator [–]. */
  readonly shoreFactor: number
  /** Water temperature above the coast's [°C]. */
  readonly warmerC: number
}

/** Everything that boats of one coast share: berths, and the water's temperature day by day. */
export interface Sea {
  readonly coast: Coast
  readonly setting: Setting
  readonly startDay: number
  readonly temperatureC: Float64Array
  readonly berths: readonly Berth[]
  /** Places reached in summer only. */
  readonly visited: readonly Berth[]
}

const DAYS_PER_YEAR = 365.25
const WARMEST_DAY_NORTH = 225

export interface SeaDraw {
  readonly coast: Coast
  readonly setting: Setting
  readonly startDay: number
  readonly days: number
}

/** The water, and the places reached in summer, without berths of its own. */
export function makeSea(draws: Draws, { coast, setting, startDay, days }: SeaDraw): Sea {
  const visited = Array.from({ length: VISITED }, (_, index) => makeBerth(draws, coast, setting, index, true))
  const temperatureC = temperatures(draws, coast, startDay, days)
  return { coast, setting, startDay, temperatureC, berths: [], visited }
}

/** The same water with the berths of one marina. */
export function withBerths(draws: Draws, sea: Sea, first: number, count: number): Sea {
  const { coast, setting } = sea
  const berths = Array.from({ length: count }, (_, index) => makeBerth(draws, coast, setting, first + index, false))
  return { ...sea, berths }
}

const VISITED = 3

/** A yearly wave whose height, mean and timing differ from year to year, with weather on it. */
function temperatures(draws: Draws, coast: Coast, startDay: number, days: number): Float64Array {
  const years = Math.ceil(days / DAYS_PER_YEAR) + 2
  const yearly = Array.from({ length: years }, () => ({
    swing: coast.swingC * (1 + draws.normal(0.12)),
    shift: draws.normal(0.5),
    late: draws.normal(8),
  }))
  const weather = draws.wandering(days, 0.9, 12)
  const warmest = WARMEST_DAY_NORTH + (coast.latitude < 0 ? DAYS_PER_YEAR / 2 : 0)
  return weather.map((noise, at) => {
    const day = startDay + at
    const position = (day - startDay) / DAYS_PER_YEAR
    const [before, share] = [Math.floor(position), position - Math.floor(position)]
    const mix = (of: 'swing' | 'shift' | 'late') => (1 - share) * yearly[before]![of] + share * yearly[before + 1]![of]
    const phase = (2 * Math.PI * (day - warmest - mix('late'))) / DAYS_PER_YEAR
    return coast.meanTemperatureC + mix('shift') + mix('swing') * Math.cos(phase) + noise
  })
}

function makeBerth(draws: Draws, coast: Coast, setting: Setting, index: number, isVisited: boolean): Berth {
  const water = drawWater(draws, coast)
  return {
    name: `${isVisited ? 'Visitors' : 'Berth'} ${index + 1}`,
    pontoon: `${isVisited ? 'V' : String.fromCharCode(65 + (index >> 2))}`,
    water,
    ...waterOf(draws, setting, water),
    latitude: coast.latitude + draws.normal(isVisited ? 0.8 : 0.05),
    shorePower: draws.chance(0.7),
    isVisited,
    shoreFactor: draws.chance(0.8) ? 1 + 0.15 * draws.lognormal(0.8) : 1,
    warmerC: draws.normal(0.7),
  }
}

function drawWater(draws: Draws, coast: Coast): Water {
  const at = draws.between(0, 1)
  if (at < coast.waters[0]) return 'salt'
  return at < coast.waters[0] + coast.waters[1] ? 'brackish' : 'fresh'
}

/** Water that conducts less holds the current down, but less than in proportion: part of the resistance is the metal's film. */
function waterOf(
  draws: Draws,
  { salinityPower, berthSd }: Setting,
  water: Water,
): Pick<Berth, 'salinityPsu' | 'logEffect'> {
  const salinityPsu = { salt: draws.between(30, 37), brackish: draws.between(3, 16), fresh: draws.between(0.1, 0.5) }[
    water
  ]
  return { salinityPsu, logEffect: salinityPower * Math.log(salinityPsu / 34) + draws.heavyTailed(berthSd, 6) }
}
