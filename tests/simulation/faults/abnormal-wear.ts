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

/** Milder faults, evidence more seldom and worse: what the diagnosis was not tuned on. */
const OTHER_HABITS: EvidenceHabits = {
  codes: 0.3,
  misleading: 0.3,
  submerged: 0.15,
  potentials: 0.3,
  continuity: 0.2,
  voltsSd: 0.02,
}

export const ABNORMAL_WEAR = {
  usual: { faultyShare: 0.15, groupChance: 0.5, severity: 1, habits: USUAL_HABITS },
  'held out': { faultyShare: 0.1, groupChance: 0.4, severity: 0.8, habits: OTHER_HABITS },
  clean: { faultyShare: 0, groupChance: 0, severity: 1, habits: USUAL_HABITS },
  'clean, held out': { faultyShare: 0, groupChance: 0, severity: 1, habits: OTHER_HABITS },
} as const satisfies Record<string, AbnormalWear>

export type AbnormalWearName = keyof typeof ABNORMAL_WEAR
