import type { Water } from '../../src/engine/reference/vocabulary.js'
import { dice } from '../random.js'
import type { Alloy } from './anode-bodies.js'
import { dayOfYear, daysBetween } from './calendar.js'
import { berthNamed } from './harbour.js'
import type { Mount } from './outfits.js'
import { daysWithin, type Stay } from './stays.js'
import { lossByBlow, type Moment, storyFactor } from './stories.js'

/**
 * The hidden truth of the demo: how fast anodes waste in Merrowby Haven. All figures are invented so that a zinc anode of
 * a kilogram on a hull in salt water is half gone after a bit more than a year. The engine never sees this file; it has
 * to find the rates from the weighings.
 */
const HALF_GONE_DAYS = 420
const SIZE_EXPONENT = 0.85
/** Wear slows a little as the exposed surface shrinks. */
const SHRINKING_EXPONENT = 0.2
const SEASON_AMPLITUDE = 0.3
const WARMEST_DAY = 225
const SPREAD = { boat: 0.22, pontoon: 0.08, berth: 0.1, anode: 0.12, interval: 0.1 }
/** What is left when only crumbs hang on the core. */
const CRUMBS = 0.02

const ALLOY_IN_WATER: Readonly<Record<Alloy, Readonly<Record<Water, number>>>> = {
  zinc: { salt: 1, brackish: 0.7, fresh: 0.08 },
  aluminium: { salt: 0.95, brackish: 0.8, fresh: 0.35 },
  magnesium: { salt: 3.4, brackish: 1.7, fresh: 0.85 },
}

const POSITION: Readonly<Record<string, number>> = {
  shaft: 1.2,
  'propeller hub': 1.25,
  hull: 0.85,
  rudder: 0.85,
  'trim tab': 1.05,
  skeg: 0.85,
}

/** One anode at its mount, as nature knows it. */
export interface Wearing {
  boat: string
  anode: string
  mount: Mount
  fittedOn: string
  alloy: Alloy
  newNetG: number
}

/**
 * Net mass left [g] after the days between two dates.
 *
 * @param netG net mass on the first of them
 * @param today the day from which the stories count back
 */
export function netAfter(
  wearing: Wearing,
  netG: number,
  stays: readonly Stay[],
  from: string,
  to: string,
  today: string,
) {
  const steady =
    steadyRate(wearing) * spread(SPREAD.interval, wearing.boat, wearing.anode, 'until', daysBetween(from, to))
  let left = netG
  const fittedDaysAgo = daysBetween(wearing.fittedOn, today)
  for (const stay of stays) {
    if (stay.berth === undefined) continue
    const within = daysWithin(stay, from, to)
    const rate = steady * waterRate(wearing.alloy, stay.berth)
    // Counted in whole days: making a date for each of a million days would take most of the time.
    const firstDaysAgo = daysBetween(within.from, today)
    const firstDayOfYear = dayOfYear(within.from)
    for (let day = 0; day < within.days; day += 1) {
      const moment = { ...placeOf(wearing, stay), fittedDaysAgo, daysAgo: firstDaysAgo - day }
      const loss =
        rate * told(season(firstDayOfYear + day), storyFactor(moment)) * (left / wearing.newNetG) ** SHRINKING_EXPONENT
      left = Math.max(CRUMBS * wearing.newNetG, (left - loss) * (1 - lossByBlow(moment)))
    }
  }
  return left
}

function placeOf({ boat, mount }: Wearing, stay: Stay): Omit<Moment, 'fittedDaysAgo' | 'daysAgo'> {
  return { boat, mount: mount.mount, bonded: mount.bonded, shoreHours: stay.shoreHours ?? 0 }
}

/** A bad contact slows all wear; a stray current comes on top of it, summer and winter alike. */
function told(usual: number, factor: number): number {
  return factor < 1 ? usual * factor : usual + factor - 1
}

/** Grams a day in the yearly mean, in the zinc-and-salt units of this file. */
function steadyRate({ boat, anode, mount, newNetG }: Wearing): number {
  const kilograms = newNetG / 1000
  const plain = (500 / HALF_GONE_DAYS) * kilograms ** SIZE_EXPONENT * (POSITION[mount.position] ?? 1)
  return plain * spread(SPREAD.boat, 'boat', boat) * spread(SPREAD.anode, 'anode', boat, anode)
}

function waterRate(alloy: Alloy, berthName: string): number {
  const { water, pontoon } = berthNamed(berthName)
  return ALLOY_IN_WATER[alloy][water] * spread(SPREAD.pontoon, pontoon) * spread(SPREAD.berth, 'berth', berthName)
}

/** @param day of the year; days of the next go on counting */
function season(day: number): number {
  return 1 + SEASON_AMPLITUDE * Math.cos((2 * Math.PI * (day - WARMEST_DAY)) / 365.25)
}

/** A factor round 1 that belongs to its key for good. */
function spread(sd: number, ...key: readonly (string | number)[]): number {
  return Math.exp(dice('spread', ...key).normal(0, sd))
}
