import type { Alloy } from './anode-bodies.js'
import type { OutfitName } from './outfits.js'
import { BELLWALL } from './register/bellwall.js'
import { GANNET } from './register/gannet.js'
import { LANTERN } from './register/lantern.js'
import { UPSTREAM } from './register/upstream.js'

/** When a boat comes out of the water. */
export type Habit = 'winter-ashore' | 'afloat' | 'half-yearly' | 'irregular'

/** How its anodes are judged: scale and wire brush, scale as it comes, callipers, or mostly by eye. */
export type Practice = 'keen' | 'yard' | 'calipers' | 'eye'

export interface Boat {
  boat: string
  owner: string
  email: string
  hull: 'grp' | 'wood' | 'steel' | 'aluminium' | 'ferrocement'
  outfit: OutfitName
  galvanicIsolator: 'yes' | 'no' | 'unknown'
  launchedYear: number
  berth: string
  habit: Habit
  practice: Practice
  /** Years of records in the harbour, up to five. */
  years: number
  /** Days since the last lift, for boats that do not follow the winter. */
  lastLiftDaysAgo?: number
  /** Lifts that do not follow the habit at all: days before today. */
  liftsDaysAgo?: readonly number[]
  nextLiftPlanned: boolean
  /** Where the yard's book has it nearer than the habit would: days from today. */
  nextLiftInDays?: number
  /** Hours of shore power a day at a berth that has it. */
  shoreHours: number
  /** Pontoon of the summer visit. */
  visits?: 'A' | 'C' | 'D' | 'E'
  /** Berths before the present one: until so many days ago. */
  earlierBerth?: { berth: string; untilDaysAgo: number }
  alloy?: Alloy
  /** Mounts of the outfit that this boat has not. */
  without?: readonly string[]
  /** Consumed fraction at which the owner changes an anode at a lift. */
  changesAt: number
}

/** A line of the register: what differs from the usual yacht. */
export type BoatRow = Partial<Boat> & Pick<Boat, 'boat' | 'owner' | 'email' | 'outfit' | 'berth'>

/** The usual yacht of the harbour. */
const YACHT: Omit<Boat, 'boat' | 'owner' | 'email' | 'outfit' | 'berth'> = {
  hull: 'grp',
  galvanicIsolator: 'unknown',
  launchedYear: 2004,
  habit: 'winter-ashore',
  practice: 'yard',
  years: 5,
  nextLiftPlanned: true,
  shoreHours: 6,
  changesAt: 0.42,
}

export const BOATS: readonly Boat[] = [...LANTERN, ...GANNET, ...BELLWALL, ...UPSTREAM].map((row) => ({
  ...YACHT,
  ...row,
}))
