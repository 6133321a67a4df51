import { SETTINGS, type Setting } from '../setting.js'

/** How often evidence beside masses is written down, and how good it is. Chances unless told otherwise. */
export interface EvidenceHabits {
  /** Of an anode's codes at a look. */
  readonly codes: number
  /** Of a code that says something else than the truth. */
  readonly misleading: number
  /** Of hanging a weighed anode in water. */
  readonly submerged: number
  /** Of measuring potentials before a lift; half of it in a season without one. */
  readonly potentials: number
  /** Of measuring the continuity of one anode at a lift. */
  readonly continuity: number
  /** Standard deviation of a potential's error [V]. */
  readonly voltsSd: number
}

/** How much is wrong in a fleet, and how well it is written down. */
export interface AbnormalWear {
  readonly setting: Setting
  /** Of boats with a fault of their own. */
  readonly faultyShare: number
  /** Chance of each: a pontoon whose shore power leaks, a berth or a pontoon in other water. */
  readonly groupChance: number
  /** Multiplies the logs of the faults' factors. */
  readonly severity: number
  readonly habits: EvidenceHabits
}

const USUAL_HABITS: EvidenceHabits = {
  codes: 0.45,
  misleading: 0.22,
  submerged: 0.3,
  potentials: 0.45,
  continuity: 0.35,
  voltsSd: 0.012,
}

/** Evidence more seldom and worse: what the diagnosis was not tuned on. */
const OTHER_HABITS: EvidenceHabits = {
  codes: 0.3,
  misleading: 0.3,
  submerged: 0.15,
  potentials: 0.3,
  continuity: 0.2,
  voltsSd: 0.02,
}

/** Other noises and laws, one look a year, coarser scales and more eyes, boats that move more. */
const OTHER_SETTING: Setting = {
  ...SETTINGS.usual,
  boatSd: 0.55,
  berthSd: 0.22,
  placeSd: 0.2,
  anodeSd: 0.1,
  wanderingSd: 0.2,
  wanderingDays: 60,
  shockScale: 0.12,
  shockDays: 180,
  perDegree: 0.045,
  salinityPower: 0.2,
  notMadeUp: 0.75,
  exponents: SETTINGS.sparse.exponents,
  movesPerYear: 0.25,
  lifts: ['yearly'],
  methods: { scale: 0.6, dimensions: 0.15 },
  resolutionsG: [5, 10],
  residueShare: 0.035,
  unknownCoreShare: 0.3,
}

export const ABNORMAL_WEAR = {
  usual: { setting: SETTINGS.usual, faultyShare: 0.15, groupChance: 0.5, severity: 1, habits: USUAL_HABITS },
  /** Enough of it for a small test. */
  much: { setting: SETTINGS.usual, faultyShare: 0.35, groupChance: 0.5, severity: 1, habits: USUAL_HABITS },
  'held out': { setting: OTHER_SETTING, faultyShare: 0.2, groupChance: 0.4, severity: 0.85, habits: OTHER_HABITS },
  clean: { setting: SETTINGS.usual, faultyShare: 0, groupChance: 0, severity: 1, habits: USUAL_HABITS },
  'clean, held out': { setting: OTHER_SETTING, faultyShare: 0, groupChance: 0, severity: 1, habits: OTHER_HABITS },
} as const satisfies Record<string, AbnormalWear>

export type AbnormalWearName = keyof typeof ABNORMAL_WEAR
