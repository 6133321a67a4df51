import type { Draws } from './draws.js'

/** What a kind of fleet is like: sizes of its noises, habits of its people. Standard deviations are of logs unless told otherwise. */
export interface Setting {
  readonly boatSd: number
  readonly berthSd: number
  readonly placeSd: number
  readonly anodeSd: number
  /** Of a boat's current over time, and how many days it is remembered. */
  readonly wanderingSd: number
  readonly wanderingDays: number
  /** Scale of an anode's heavy-tailed shocks, and days from one to the next on average. */
  readonly shockScale: number
  readonly shockDays: number
  /** Change of the log of the current per °C, in the middle. */
  readonly perDegree: number
  /** Power of the salinity that the current goes with. */
  readonly salinityPower: number
  /** Part of a neighbour's loss of surface that the others do not make up for [–]. */
  readonly notMadeUp: number
  /** Power of its volume left that an anode's current goes with, by shape. */
  readonly exponents: Readonly<Record<ShapeName, number>>
  readonly movesPerYear: number
  readonly lifts: readonly ('yearly' | 'half-yearly' | 'now and then')[]
  readonly methods: { readonly scale: number; readonly dimensions: number }
  readonly resolutionsG: readonly number[]
  readonly residueShare: number
  readonly eyeBiasSd: number
  readonly eyeSd: number
  readonly caliperBiasSd: number
  readonly caliperSd: number
  readonly unknownCoreShare: number
}

export type ShapeName = 'shaft collar' | 'plate' | 'disc' | 'hub cone' | 'bar' | 'ring'

/** Exponents run from a plate that thins evenly to a cone that shrinks on all sides. */
const USUAL: Setting = {
  boatSd: 0.45,
  berthSd: 0.17,
  placeSd: 0.15,
  anodeSd: 0.12,
  wanderingSd: 0.16,
  wanderingDays: 40,
  shockScale: 0.1,
  shockDays: 250,
  perDegree: 0.032,
  salinityPower: 0.3,
  notMadeUp: 0.5,
  exponents: { 'shaft collar': 0.35, plate: 0.1, disc: 0.3, 'hub cone': 0.65, bar: 0.5, ring: 0.75 },
  movesPerYear: 0.07,
  lifts: ['yearly', 'yearly', 'yearly', 'half-yearly', 'now and then'],
  methods: { scale: 0.76, dimensions: 0.11 },
  resolutionsG: [1, 2, 5, 10],
  residueShare: 0.025,
  eyeBiasSd: 0.05,
  eyeSd: 0.07,
  caliperBiasSd: 0.03,
  caliperSd: 0.045,
  unknownCoreShare: 0.15,
}

/** Few boats, a look a year and mostly by eye, berths changed all the time, noisier currents, other laws of depletion. */
const SPARSE: Setting = {
  boatSd: 0.6,
  berthSd: 0.25,
  placeSd: 0.2,
  anodeSd: 0.08,
  wanderingSd: 0.22,
  wanderingDays: 90,
  shockScale: 0.14,
  shockDays: 150,
  perDegree: 0.055,
  salinityPower: 0.15,
  notMadeUp: 0.8,
  exponents: { 'shaft collar': 0.6, plate: 0.3, disc: 0.05, 'hub cone': 0.9, bar: 0.2, ring: 0.4 },
  movesPerYear: 0.8,
  lifts: ['yearly'],
  methods: { scale: 0.3, dimensions: 0.15 },
  resolutionsG: [5, 10, 20],
  residueShare: 0.04,
  eyeBiasSd: 0.06,
  eyeSd: 0.1,
  caliperBiasSd: 0.04,
  caliperSd: 0.06,
  unknownCoreShare: 0.5,
}

export const SETTINGS = { usual: USUAL, sparse: SPARSE } as const satisfies Record<string, Setting>
export type SettingName = keyof typeof SETTINGS

/** The way in which a yard judges at one look. */
export function drawMethod(draws: Draws, { methods }: Setting): 'scale' | 'dimensions' | 'visual' {
  const draw = draws.between(0, 1)
  if (draw < methods.scale) return 'scale'
  return draw < methods.scale + methods.dimensions ? 'dimensions' : 'visual'
}
