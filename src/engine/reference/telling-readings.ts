import type { Cause } from '../diagnosis/causes.js'
import type { Hidden } from './cause-tables.js'
import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** A fault that readings may show before the rate does, and how it bears on the rate. */
export interface TellingReadingRow {
  readonly key: Hidden | Cause
  /** Observations that tell of it. */
  readonly observations: readonly string[]
  readonly reach: 'anode' | 'boat'
  /** Share of anodes, or boats, that have it at some time, before anything is read. */
  readonly share: number
  /** State of the hidden condition without the fault; none where the key is a cause. */
  readonly sound?: string
  /** log of the rate over the usual one while it lasts: its mean and its spread from fault to fault. */
  readonly logRate: { readonly mean: number; readonly sd: number }
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

const PRACTICE = { status: 'common practice', sources: ['boating-practice'] } as const

/** What readings and codes may show by themselves. */
export const TELLING_READINGS = [
  {
    key: 'joint',
    observations: ['joint-look', 'paint-look', 'contact-resistance', 'fitting-potential'],
    reach: 'anode',
    share: 0.02,
    sound: 'sound',
    logRate: { mean: -1.8, sd: 0.9 },
    ...PRACTICE,
    note: 'one reading may be a slip of the probe; an anode that wears as usual has contact',
  },
  {
    key: 'metal',
    observations: ['density', 'own-potential', 'bond-potential', 'marking'],
    reach: 'anode',
    share: 0.015,
    sound: 'as-declared',
    logRate: { mean: 0, sd: 1 },
    ...PRACTICE,
    note: 'by the capacities 2.6 times as fast or 0.4 times; a bubble or crust misleads now and then',
  },
  {
    key: 'alloy-not-as-declared',
    observations: ['mould-mass'],
    reach: 'anode',
    share: 0.015,
    logRate: { mean: 0, sd: 1 },
    ...PRACTICE,
    note: 'one mould, another metal: by the densities 2.6 or 0.39 times the mass between zinc and aluminium; another size may weigh so by chance',
  },
  {
    key: 'mechanical-loss',
    observations: ['breakage'],
    reach: 'anode',
    share: 0.02,
    logRate: { mean: 1.2, sd: 0.8 },
    ...PRACTICE,
    note: 'what broke off weighs',
  },
  {
    key: 'passivated',
    observations: ['surface', 'alloy-in-water'],
    reach: 'anode',
    share: 0.02,
    logRate: { mean: -1.2, sd: 0.6 },
    ...PRACTICE,
    note: 'a crust in water that brings one, on an anode that hardly wastes',
  },
  {
    key: 'undersized',
    observations: ['spent', 'mass-fitted', 'mass-against-demand'],
    reach: 'anode',
    share: 0.02,
    logRate: { mean: 0.5, sd: 0.5 },
    ...PRACTICE,
    note: 'gone within a year, smaller than what sat there before, short by demand: two of them tell',
  },
  {
    key: 'leak',
    observations: ['circuit-shift'],
    reach: 'boat',
    share: 0.03,
    sound: 'none',
    logRate: { mean: 1, sd: 0.5 },
    ...PRACTICE,
    note: 'a leak that matters wastes the anodes',
  },
  {
    key: 'shore-loop',
    observations: ['shore-lead-shift', 'shore-earth-current'],
    reach: 'boat',
    share: 0.05,
    sound: 'none',
    logRate: { mean: 0.8, sd: 0.5 },
    ...PRACTICE,
    note: 'some shift is met on many plugged-in boats whose anodes wear as usual',
  },
] as const satisfies readonly TellingReadingRow[]

/** log of a rate without a fault, of one boat's anodes about their common level: its spread. Common practice. */
export const USUAL_LOG_RATE_SD = 0.4

/** From this probability on a reading by itself is a finding. Convention: four times as likely as not. */
export const TELLS_FROM = 0.8
