import type { AnodeAlloy, Water } from '../../../src/engine/reference/vocabulary.js'
import type { TrueAnode } from '../anode-life.js'
import type { TrueBoat } from '../boats.js'
import type { Whereabouts } from '../itinerary.js'
import type { Fault } from './fault.js'
import { inWater, isMoreActive, massOfOther, shareOfOther } from './galvanic-truth.js'

/** What is bought for a place. */
export interface Purchase {
  readonly declared: AnodeAlloy
  readonly truly: AnodeAlloy
  /** Of the usual mass. */
  readonly massFactor: number
  readonly isFaulty: boolean
}

const HOURS_PER_DAY = 24
const DAYS_PER_YEAR = 365
/** A film grows over some weeks. */
const FILM_DAYS = 60
/** Below this share of its surface or of its contact, an anode holds nobody's potential. */
const STILL_WORKING = 0.1

/** What a fault does to one boat, day by day; a boat without one has a trouble that does nothing. */
export class Trouble {
  readonly fault: Fault | null
  /** The anodes that the fault acted on, each from its day on. */
  readonly affected = new Map<TrueAnode, number>()
  readonly #truly = new Map<TrueAnode, AnodeAlloy>()
  readonly #boat: TrueBoat
  #endedAt: number | null = null

  constructor(fault: Fault | null, boat: TrueBoat) {
    this.fault = fault
    this.#boat = boat
  }

  /** It acts on the current of all its anodes. */
  get isOnTheBoat(): boolean {
    return this.fault !== null && WHOLE_BOAT.has(this.fault.cause)
  }

  /** The day after the last one on which it acted. */
  endedBy(lastDay: number): number {
    return Math.min(this.fault?.to ?? lastDay, this.#endedAt ?? lastDay, lastDay)
  }

  /** What is bought for a place on a day. */
  purchase(place: string, at: number): Purchase {
    const usual = this.#boat.alloy
    const ordinary = { declared: usual, truly: usual, massFactor: 1, isFaulty: false }
    const { fault } = this
    if (fault === null || !this.#isBuying(at) || !fault.places.includes(place)) return ordinary
    switch (fault.cause) {
      case 'wrong-alloy-for-water':
        return { ...ordinary, declared: fault.alloy!, truly: fault.alloy!, isFaulty: true }
      case 'mixed-alloys':
        if (this.affected.size > 0 && !fault.isRepeated) return ordinary
        return { ...ordinary, declared: fault.alloy!, truly: fault.alloy!, isFaulty: true }
      case 'alloy-not-as-declared':
        if (this.affected.size >= fault.places.length && !fault.isRepeated) return ordinary
        return { ...ordinary, truly: fault.alloy!, isFaulty: true }
      case 'undersized':
        return { ...ordinary, massFactor: fault.factor, isFaulty: true }
      default:
        return ordinary
    }
  }

  #isBuying(at: number): boolean {
    return this.fault !== null && at >= this.fault.from && at < this.fault.to
  }

  fitted(anode: TrueAnode, purchase: Purchase, at: number): void {
    this.#truly.set(anode, purchase.truly)
    if (purchase.isFaulty) this.affected.set(anode, at)
  }

  /** The owner buys anew at this look, whatever the wear. */
  isTimeToBuy(place: string, at: number): boolean {
    const { fault } = this
    if (fault === null || !BOUGHT.has(fault.cause) || !fault.places.includes(place) || !this.#isBuying(at)) return false
    return ![...this.affected.keys()].some((anode) => anode.place.label === place)
  }

  /** A fault in one anode, or in what was bought once, ends with the last of them. */
  removed(anode: TrueAnode, at: number, inPlace: readonly TrueAnode[]): void {
    const { fault } = this
    if (fault === null || fault.isRepeated || !WITH_THE_ANODE.has(fault.cause) || !this.affected.has(anode)) return
    if (!inPlace.some((other) => other !== anode && this.affected.has(other))) this.#endedAt = at
  }

  trulyOf(anode: TrueAnode): AnodeAlloy {
    return this.#truly.get(anode) ?? anode.alloy
  }

  isOn(where: Whereabouts, at: number): boolean {
    const { fault } = this
    if (fault === null || where === 'ashore' || at < fault.from || at >= this.endedBy(Infinity)) return false
    return fault.berths.length === 0 || (where !== 'cruise' && fault.berths.includes(where.name))
  }

  /** A fault of its own strikes the anodes in place. */
  strike(anodes: readonly TrueAnode[], at: number): void {
    const { fault } = this
    if (fault === null || !STRIKING.has(fault.cause) || this.affected.size > 0 || at < fault.from || at >= fault.to)
      return
    for (const anode of anodes) {
      if (!fault.places.includes(anode.place.label)) continue
      this.affected.set(anode, at)
    }
  }

  /** All anodes of the boat take part in what acts on the whole boat. */
  share(anodes: readonly TrueAnode[], at: number): void {
    for (const anode of anodes) if (!this.affected.has(anode)) this.affected.set(anode, at)
  }

  /** Factor on the boat's current. */
  current(where: Whereabouts, at: number): number {
    const { fault } = this
    if (fault === null || where === 'ashore' || !this.isOn(where, at)) return 1
    switch (fault.cause) {
      case 'stray-current-onboard':
      case 'berth-environment':
        return fault.factor
      case 'stray-current-shore':
        return this.isOnShorePower(where) ? 1 + (this.#boat.shoreHours / HOURS_PER_DAY) * (fault.factor - 1) : 1
      case 'wrong-alloy-for-water':
      case 'alloy-not-as-declared':
        // Magnesium drives the metal further down than zinc would: more current, beside what it wastes by itself.
        return fault.alloy === 'magnesium' && where !== 'cruise' && where.water !== 'fresh' && this.affected.size > 0
          ? fault.factor
          : 1
      default:
        return 1
    }
  }

  isOnShorePower(where: Whereabouts): boolean {
    if (where === 'ashore' || where === 'cruise') return false
    return where.shorePower && this.#boat.shoreHours > 0 && !this.#boat.isolator
  }

  /** What its contact and its film leave of an anode's current. */
  contact(anode: TrueAnode, at: number): number {
    const { fault } = this
    const since = this.affected.get(anode)
    if (fault === null || since === undefined) return 1
    if (fault.cause === 'no-electrical-contact') return fault.factor
    if (fault.cause !== 'passivated') return 1
    return 1 - (1 - fault.factor) * (1 - Math.exp(-(at - since) / FILM_DAYS))
  }

  /** What the alloy that an anode truly is, and those beside it, do to its share. */
  activity(anode: TrueAnode, anodes: readonly TrueAnode[], at: number): number {
    const own = this.trulyOf(anode)
    const other = shareOfOther(own, anode.alloy)
    const isSuppressed = anodes.some((beside) => {
      if (!isMoreActive(this.trulyOf(beside), own)) return false
      return beside.massG > STILL_WORKING * beside.netMassG && this.contact(beside, at) > STILL_WORKING
    })
    return isSuppressed ? other * (this.fault?.suppressed ?? 1) : other
  }

  /** Grams lost over those of its declared alloy in a water that suits it, at the same current. */
  behaviour(anode: TrueAnode, water: Water, at: number): number {
    const truly = this.trulyOf(anode)
    return massOfOther(truly, anode.alloy) * inWater(truly, water, (at - anode.fittedAt) / DAYS_PER_YEAR)
  }

  /** The same if nothing were wrong. */
  healthyBehaviour(anode: TrueAnode, water: Water, at: number): number {
    if (this.fault?.cause === 'wrong-alloy-for-water' && this.affected.has(anode)) return 1
    return inWater(anode.alloy, water, (at - anode.fittedAt) / DAYS_PER_YEAR)
  }
}

/** In what is bought: they begin with a purchase. */
const BOUGHT: ReadonlySet<string> = new Set([
  'wrong-alloy-for-water',
  'alloy-not-as-declared',
  'mixed-alloys',
  'undersized',
])
const WHOLE_BOAT: ReadonlySet<string> = new Set(['stray-current-onboard', 'stray-current-shore', 'berth-environment'])
/** They befall single anodes that are in place. */
const STRIKING: ReadonlySet<string> = new Set(['no-electrical-contact', 'passivated', 'mechanical-loss'])
const WITH_THE_ANODE: ReadonlySet<string> = new Set([
  'alloy-not-as-declared',
  'mixed-alloys',
  'no-electrical-contact',
  'passivated',
  'mechanical-loss',
])
