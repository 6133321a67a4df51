import type { TrueAnode } from '../anode-life.js'
import type { Sea } from '../sea.js'
import type { Setting } from '../setting.js'
import { type Fault, type FaultTruth, VISIBLE_STRENGTH } from './fault.js'
import type { NotedLoss } from './loss-ledger.js'
import type { Trouble } from './trouble.js'
import type { TroubledLife } from './troubled-life.js'

/** A boat that shares in a fault. */
export interface Sufferer {
  readonly boat: string
  readonly trouble: Trouble
  readonly life: TroubledLife
}

/**
 * Standard deviation of the log rate of about a year: shocks (twice the variance of their scale's square, by four degrees of freedom),
 * wandering as far as a year does not even it out, and what seasons and capacities do.
 */
function intervalSd({ shockScale, wanderingSd, wanderingDays }: Setting): number {
  return Math.hypot(Math.SQRT2 * shockScale, wanderingSd * Math.sqrt((2 * wanderingDays) / 365), SEASONS_SD)
}
const SEASONS_SD = 0.11
/** Of a boat's whole current over an interval. */
const BOAT_SD = 0.1
/** Of what the record tells of the rate without the fault [log]: from before; from the boat's other anodes. */
const KNOWN_BEFORE_SD = 0.15
const KNOWN_BESIDE_SD = 0.25
/** Of what other boats tell of one: its published demand is not its current, beside what boats differ by. */
const DEMAND_SD = 0.2
/** Of the mean of all other boats, and variance of a Student t of six degrees of freedom. */
const FLEET_SD = 0.1
const BERTH_TAILS = 1.5

/** What is not known without a record from before [log]. */
interface Ignorance {
  readonly intervalSd: number
  readonly boatSd: number
  readonly berthSd: number
}

function ignoranceIn(setting: Setting): Ignorance {
  return {
    intervalSd: intervalSd(setting),
    boatSd: Math.hypot(setting.boatSd, DEMAND_SD),
    berthSd: setting.berthSd * Math.sqrt(BERTH_TAILS),
  }
}

/** A loss of nothing has no logarithm: what the scale could hide stands for it. */
const LEAST_SHARE = 0.01

/** Undersized: weighed with this much gone within about a year in place. */
const TOO_SMALL_GONE = 0.7
const TOO_SMALL_DAYS = 420

/** What of a fault came to pass, and whether the masses show it; `null` where it never acted. */
export function truthOf(sea: Sea, fault: Fault, sufferers: readonly Sufferer[], recordDays: number): FaultTruth | null {
  const struck = sufferers.filter(({ trouble }) => trouble.affected.size > 0)
  if (struck.length === 0) return null
  const from = Math.min(...struck.flatMap(({ trouble }) => [...trouble.affected.values()]))
  const to = Math.max(...struck.map(({ trouble }) => trouble.endedBy(recordDays)))
  const strength = strengthOf(fault, struck, from, ignoranceIn(sea.setting))
  const anodes = struck.flatMap(({ boat, trouble }) => [...trouble.affected.keys()].map(({ name }) => [boat, name]))
  const companions = struck.flatMap(({ boat, life }) =>
    life.everFitted.filter((anode) => isThere(life, anode, from, to)).map(({ name }) => [boat, name]),
  )
  return {
    cause: fault.cause,
    scopes: scopesOf(sea, fault, struck),
    boats: struck.map(({ boat }) => boat),
    anodes: anodes.map((pair) => JSON.stringify(pair)),
    companions: companions.map((pair) => JSON.stringify(pair)),
    berths: fault.berths,
    pontoon: sea.berths.find(({ name }) => fault.berths.includes(name))?.pontoon ?? null,
    from: sea.startDay + from,
    to: sea.startDay + to,
    directions: fault.cause === 'undersized' ? ['fast'] : directionsOf(struck, from, to),
    strength,
    isVisible: strength >= VISIBLE_STRENGTH,
  }
}

function isThere(life: TroubledLife, anode: TrueAnode, from: number, to: number): boolean {
  return anode.fittedAt < to && (life.removals.get(anode) ?? Infinity) > from
}

function scopesOf(sea: Sea, fault: Fault, struck: readonly Sufferer[]): FaultTruth['scopes'] {
  if (fault.group !== null && struck.length > 1) {
    const places = sea.berths.filter(({ name }) => fault.berths.includes(name))
    return places.length === 1 ? ['berth'] : ['pontoon']
  }
  if (placesOf(struck[0]!) === 1) return ['boat', 'anode']
  if (struck[0]!.trouble.isOnTheBoat) return ['boat']
  // One anode of another alloy, and all that are bonded to it.
  if (fault.cause === 'mixed-alloys') return ['boat', 'anode']
  return new Set(fault.places).size === 1 ? ['anode'] : ['boat']
}

function placesOf({ life }: Sufferer): number {
  return new Set(life.everFitted.map(({ place }) => place.label)).size
}

/**
 * Standard deviations by which the clearest of it differs from what would have been: one interval, an anode's together, a boat's
 * together, or all that share in it.
 */
function strengthOf(fault: Fault, struck: readonly Sufferer[], from: number, ignorance: Ignorance): number {
  if (fault.cause === 'undersized') return Math.max(...struck.map(tooSmall))
  const alone = struck.map((each) => clearest(fault, each, from, ignorance))
  if (struck.length < 2) return alone[0]!.strength
  // Where it was so from the first day on, other berths must tell what is usual for these.
  const berths = Math.max(1, fault.berths.length)
  const placeSd = alone.some(({ isKnown }) => !isKnown)
    ? Math.hypot(ignorance.berthSd / Math.sqrt(berths), FLEET_SD)
    : 0
  const boatsSd = Math.max(...alone.map(({ knownSd: sd }) => sd)) / Math.sqrt(struck.length)
  const knownSd = Math.hypot(placeSd, boatsSd)
  const boats = alone.flatMap(({ whole }) => whole ?? [])
  const together = boats.length < 2 ? 0 : sizeOf(pool(boats), knownSd)
  return Math.max(together, ...alone.map(({ strength }) => strength))
}

interface Clearest {
  readonly strength: number
  readonly knownSd: number
  /** The boat was weighed before. */
  readonly isKnown: boolean
  /** Of the boat's own anodes together. */
  readonly whole: LogRatio | null
}

function clearest(fault: Fault, { trouble, life }: Sufferer, from: number, ignorance: Ignorance): Clearest {
  const { noted } = life.ledger
  const before = noted.filter(({ to }) => to <= from)
  const knownPlaces = new Set(before.map(({ anode }) => anode.place.label))
  const isSingle = new Set(fault.places).size === 1
  const boatSd = before.length > 0 ? KNOWN_BEFORE_SD : ignorance.boatSd
  const end = trouble.endedBy(Infinity)
  // Its neighbours show it too, in what they take over or leave.
  const byAnode = life.everFitted.map((anode) => {
    const since = trouble.affected.get(anode) ?? from
    const ratios = noted
      .filter((loss) => loss.anode === anode && loss.to > since && loss.from < end && loss.healthyG > 0)
      .map((loss) => logRatioOf(loss, ignorance.intervalSd))
    const besideSd = isSingle ? KNOWN_BESIDE_SD : boatSd
    return { anode, ratios, knownSd: knownPlaces.has(anode.place.label) ? KNOWN_BEFORE_SD : besideSd }
  })
  const own = byAnode.flatMap(({ anode, ratios }) => (trouble.affected.has(anode) ? ratios : []))
  const whole = own.length === 0 ? null : together(own)
  const sizes = byAnode.flatMap(({ ratios, knownSd }) =>
    [...ratios, ...(ratios.length > 1 ? [pool(ratios)] : [])].map((ratio) => sizeOf(ratio, knownSd)),
  )
  if (whole !== null && !isSingle) sizes.push(sizeOf(whole, boatSd))
  return { strength: Math.max(0, ...sizes), knownSd: boatSd, isKnown: before.length > 0, whole }
}

function sizeOf({ log, sd }: LogRatio, knownSd: number): number {
  return Math.abs(log) / Math.hypot(knownSd, sd)
}

/** A boat's anodes share its current's wandering. */
function together(ratios: readonly LogRatio[]): LogRatio {
  const { log, sd } = pool(ratios)
  return { log, sd: Math.hypot(BOAT_SD, sd) }
}

interface LogRatio {
  readonly log: number
  readonly sd: number
}

function logRatioOf({ lostG, healthyG, sdG }: NotedLoss, noiseSd: number): LogRatio {
  const least = Math.max(sdG, LEAST_SHARE * healthyG)
  return { log: Math.log(Math.max(lostG, least) / healthyG), sd: Math.hypot(noiseSd, sdG / healthyG) }
}

function pool(ratios: readonly LogRatio[]): LogRatio {
  const weights = ratios.map(({ sd }) => 1 / sd ** 2)
  const whole = weights.reduce((sum, weight) => sum + weight, 0)
  const log = ratios.reduce((sum, ratio, index) => sum + ratio.log * weights[index]!, 0) / whole
  return { log, sd: 1 / Math.sqrt(whole) }
}

/** What is too small is plain once it is nearly gone at an ordinary lift. */
function tooSmall({ trouble, life }: Sufferer): number {
  const { noted } = life.ledger
  const isPlain = noted.some(({ anode, from, to, lostG }) => {
    const isFirst = from === anode.fittedAt && to - from <= TOO_SMALL_DAYS
    return trouble.affected.has(anode) && isFirst && lostG >= TOO_SMALL_GONE * anode.netMassG
  })
  return isPlain ? VISIBLE_STRENGTH : 0
}

/** Weighed all but gone within about a year in place, whether or not something is wrong: plainly too small for its boat. */
export function shortLived({ boat, life }: Pick<Sufferer, 'boat' | 'life'>): string[] {
  return life.ledger.noted
    .filter(({ anode, from, to }) => from === anode.fittedAt && to - from <= TOO_SMALL_DAYS)
    .filter(({ anode, lostG }) => lostG >= TOO_SMALL_GONE * anode.netMassG)
    .map(({ anode }) => JSON.stringify([boat, anode.name]))
}

/** Ways in which wear went while it acted, by its own anodes and their companions. */
function directionsOf(struck: readonly Sufferer[], from: number, to: number): ('fast' | 'slow')[] {
  const ratios = struck.flatMap(({ life }) =>
    life.ledger.noted
      .filter((loss) => loss.to > from && loss.from < to && loss.healthyG > 0)
      .map((loss) => logRatioOf(loss, 0).log),
  )
  const PLAIN = 0.15
  const found: ('fast' | 'slow')[] = []
  if (ratios.some((log) => log > PLAIN)) found.push('fast')
  if (ratios.some((log) => log < -PLAIN)) found.push('slow')
  return found
}
