import { hypergeometricTail } from '../../statistics/distributions/hypergeometric.js'
import { type Anomaly, SCOPES, type Scope } from '../anomaly.js'

/** A berth or a pontoon with the boats that lay there. */
export interface PlaceWithBoats {
  readonly scope: 'berth' | 'pontoon'
  readonly name: string
  readonly pontoon: string | null
  readonly boats: ReadonlySet<string>
}

/**
 * How rarely chance must put as many boats at one place. That several change at one time is rare by itself, so that their place need not be
 * very; of those that always were so it must. Convention.
 */
const RARE_AT_ONE_TIME = 0.2
const RARE_ALL_ALONG = 0.01
const LEAST_BOATS = 2
/** Onsets that may be one day: the middle of each is known to about half a year. Convention. */
const SAME_TIME_DAYS = 180

/**
 * Anomalies of boats that lie together, go one way and began together are one of their place, where chance would hardly have put so many
 * of those that there are at this place: a boat without shore power, or between two looks, keeps the place from standing out as a whole.
 *
 * @param boats how many boats there are in all
 * @param places with their boats; of two that fit, the rarer chance is taken
 */
export function gatherPlaces(
  anomalies: readonly Anomaly[],
  places: readonly PlaceWithBoats[],
  boats: number,
): Anomaly[] {
  let rest = [...anomalies]
  const gathered: Anomaly[] = []
  for (const seed of [...anomalies].sort((a, b) => Math.abs(b.surprise) - Math.abs(a.surprise))) {
    if (!isOfTheBoat(seed) || !rest.includes(seed)) continue
    const alike = rest.filter((each) => isOfTheBoat(each) && isAlike(seed, each))
    const place = rarestPlace(seed, alike, places, boats)
    if (place === null) continue
    const own = alike.filter(({ boat }) => place.boats.has(boat!))
    gathered.push(asOne(place, own))
    rest = rest.filter((each) => !own.includes(each))
  }
  return [...gathered, ...rest]
}

/** What one anode does from some day on is its own; where it was so all along, the boat's other anodes may just be larger. */
function isOfTheBoat({ scope, onset }: Anomaly): boolean {
  return scope === 'boat' || (scope === 'anode' && onset === null)
}

function isAlike(one: Anomaly, other: Anomaly): boolean {
  if (one.direction !== other.direction) return false
  if (one.onset === null || other.onset === null) return one.onset === other.onset
  const gap = Math.max(one.onset.p10, other.onset.p10) - Math.min(one.onset.p90, other.onset.p90)
  return gap <= 0 || Math.abs(one.onset.p50 - other.onset.p50) <= SAME_TIME_DAYS
}

function rarestPlace(
  seed: Anomaly,
  alike: readonly Anomaly[],
  places: readonly PlaceWithBoats[],
  population: number,
): PlaceWithBoats | null {
  const boats = new Set(alike.map(({ boat }) => boat!))
  let rarest: PlaceWithBoats | null = null
  let least = seed.onset === null ? RARE_ALL_ALONG : RARE_AT_ONE_TIME
  for (const place of places) {
    const here = [...boats].filter((boat) => place.boats.has(boat)).length
    const isSeeds = place.scope === 'berth' ? seed.berth === place.name : seed.pontoon === place.name
    if (!isSeeds || here < LEAST_BOATS) continue
    const chance = hypergeometricTail({ population, marked: boats.size, drawn: place.boats.size }, here)
    if (chance > least) continue
    least = chance
    rarest = place
  }
  return rarest
}

/** The strongest stands for when it began; scores and sizes are put together. */
function asOne({ scope, name, pontoon }: PlaceWithBoats, own: readonly Anomaly[]): Anomaly {
  const strongest = own.reduce((most, each) => (Math.abs(each.surprise) > Math.abs(most.surprise) ? each : most))
  const total = own.reduce((sum, { surprise }) => sum + surprise, 0)
  return {
    ...strongest,
    scope,
    boat: null,
    berth: scope === 'berth' ? name : null,
    pontoon,
    anodes: [...new Set(own.flatMap(({ anodes }) => anodes))],
    // Stouffer's sum of independent scores.
    surprise: total / Math.sqrt(own.length),
    logRatio: meanRatio(own),
    shares: sharesAt(scope, own),
  }
}

function meanRatio(own: readonly Anomaly[]): Anomaly['logRatio'] {
  const ratios = own.flatMap(({ logRatio }) => logRatio ?? [])
  if (ratios.length === 0) return null
  const weights = ratios.map(({ sd }) => 1 / sd ** 2)
  const whole = weights.reduce((sum, weight) => sum + weight, 0)
  return { mean: ratios.reduce((sum, { mean }, i) => sum + mean * weights[i]!, 0) / whole, sd: 1 / Math.sqrt(whole) }
}

/** Means of the shares; what they gave to levels within the place is the place's, or it would not be of the place. */
function sharesAt(place: Scope, own: readonly Anomaly[]): Record<Scope, number> {
  const shares = { anode: 0, boat: 0, berth: 0, pontoon: 0 }
  for (const scope of SCOPES) {
    const level = SCOPES.indexOf(scope) < SCOPES.indexOf(place) ? place : scope
    shares[level] += own.reduce((sum, each) => sum + each.shares[scope], 0) / own.length
  }
  // Sums of parts come out a hair above 1 now and then.
  for (const scope of SCOPES) shares[scope] = Math.min(1, shares[scope])
  return shares
}
