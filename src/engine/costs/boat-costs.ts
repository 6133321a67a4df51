import { isSamePartMass, type Part } from '../planning/count-parts.js'

/** What something costs from a day on, in hundredths of the currency. */
export interface Price {
  readonly what: PricedThing
  /** 'YYYY-MM-DD' */
  readonly since: string
  readonly cents: number
}

/** A lift, or a part; what is `null` of a part holds for any. */
export type PricedThing = { readonly kind: 'lift' } | ({ readonly kind: 'part' } & Part)

/** Something that was paid for, or will be. */
export interface CostEvent {
  /** 'YYYY-MM-DD' */
  readonly on: string
  readonly what: PricedThing
}

export interface PricedEvent<Event extends CostEvent> {
  readonly event: Event
  /** `null` where no price of that day is known. */
  readonly cents: number | null
}

export interface Costs<Event extends CostEvent> {
  readonly lines: readonly PricedEvent<Event>[]
  /** Of the lines that have a price. */
  readonly totalCents: number
  /** Lines without one: the total is too small by them. */
  readonly unpriced: number
}

/** What events cost at the prices of their days. In the order of the events; sums are of whole hundredths, and so exact. */
export function costsOf<Event extends CostEvent>(events: readonly Event[], prices: readonly Price[]): Costs<Event> {
  const lines = events.map((event) => ({ event, cents: centsOf(event, prices) }))
  return {
    lines,
    totalCents: lines.reduce((sum, { cents }) => sum + (cents ?? 0), 0),
    unpriced: lines.filter(({ cents }) => cents === null).length,
  }
}

/**
 * The price that names the thing most closely, and of those the latest that had begun: a price of a shape goes before one of any shape, a
 * price of a mass before one of any mass, the nearest mass before others.
 */
function centsOf({ on, what }: CostEvent, prices: readonly Price[]): number | null {
  const begun = prices.filter((price) => price.since <= on && holdsFor(price.what, what))
  const [best] = begun.toSorted(
    (a, b) => closeness(b.what) - closeness(a.what) || distance(a.what, what) - distance(b.what, what) || later(a, b),
  )
  return best?.cents ?? null
}

function holdsFor(priced: PricedThing, wanted: PricedThing): boolean {
  if (priced.kind !== 'part' || wanted.kind !== 'part') return priced.kind === wanted.kind
  return (
    (priced.alloy === null || priced.alloy === wanted.alloy) &&
    (priced.shape === null || priced.shape === wanted.shape) &&
    (priced.massG === null || (wanted.massG !== null && isSamePartMass(priced.massG, wanted.massG)))
  )
}

/** How much of a part a price names. A mass tells more than a shape, for parts are sold by weight. */
function closeness(what: PricedThing): number {
  if (what.kind === 'lift') return 0
  return (what.massG === null ? 0 : 4) + (what.shape === null ? 0 : 2) + (what.alloy === null ? 0 : 1)
}

function distance(priced: PricedThing, wanted: PricedThing): number {
  if (priced.kind !== 'part' || wanted.kind !== 'part' || priced.massG === null || wanted.massG === null) return 0
  return Math.abs(priced.massG - wanted.massG)
}

function later(a: Price, b: Price): number {
  return a.since === b.since ? 0 : a.since < b.since ? 1 : -1
}
