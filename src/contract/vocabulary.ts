import { CAUSES } from '../engine/diagnosis/causes.js'

/**
 * The closed lists of words that the API, the CSV files, the database and the screens share. The trade's own terms;
 * the keys are part of the public contract and never change their meaning.
 */
export {
  ANODE_ALLOYS as ALLOYS,
  type AnodeAlloy as Alloy,
  REFERENCE_ELECTRODES,
  type ReferenceElectrode,
  WATERS,
  type Water,
} from '../engine/reference/vocabulary.js'

export const HULLS = ['grp', 'wood', 'steel', 'aluminium', 'ferrocement'] as const
export type Hull = (typeof HULLS)[number]

export const YES_NO = ['yes', 'no'] as const
export const YES_NO_UNKNOWN = ['yes', 'no', 'unknown'] as const
export type YesNoUnknown = (typeof YES_NO_UNKNOWN)[number]

/** Where an anode sits. A label that starts with one of these ("hull port aft") counts as that kind; any other as `other`. */
export const POSITION_KINDS = [
  'shaft',
  'propeller hub',
  'hull',
  'rudder',
  'saildrive leg',
  'skeg',
  'trim tab',
  'bow thruster',
  'heat exchanger',
  'other',
] as const
export type PositionKind = (typeof POSITION_KINDS)[number]

export const WEIGHING_METHODS = ['scale', 'dimensions', 'visual'] as const
export type WeighingMethod = (typeof WEIGHING_METHODS)[number]

export const SUBMERGED_IN = ['salt', 'fresh'] as const

/** What the anode looks like, then what the metal around it looks like. */
export const ANODE_CONDITIONS = [
  'even',
  'bright',
  'sharp-edged',
  'crusted',
  'painted',
  'loose',
  'broken',
  'missing',
  'undercut',
] as const
export const METAL_CONDITIONS = ['pitted', 'pink', 'scaled', 'paint-blistered'] as const
export const CONDITIONS = [...ANODE_CONDITIONS, ...METAL_CONDITIONS] as const
export type Condition = (typeof CONDITIONS)[number]

export const SHORE_POWER_STATES = ['connected', 'disconnected'] as const
export const CIRCUIT_STATES = ['on', 'off'] as const

/** Mass units a request may use; grams are stored. */
export const MASS_UNITS = ['g', 'kg', 'lb', 'oz'] as const
export type MassUnit = (typeof MASS_UNITS)[number]

export const ROLES = ['administrator', 'staff', 'manager', 'owner'] as const
export type Role = (typeof ROLES)[number]

export const JOB_STATES = ['queued', 'running', 'completed', 'failed'] as const
export type JobState = (typeof JOB_STATES)[number]

/** Of a pontoon, looking out from its shore end. */
export const BERTH_SIDES = ['left', 'right'] as const
export type BerthSide = (typeof BERTH_SIDES)[number]

export const FINDING_DIRECTIONS = ['fast', 'slow', 'other'] as const
/** `resolved` by somebody, with what was done; `closed` by itself, where corrected records no longer support it. */
export const FINDING_STATES = ['open', 'acknowledged', 'checked', 'resolved', 'closed'] as const
export type FindingState = (typeof FINDING_STATES)[number]

/** The steps of a finding's life. */
export const FINDING_EVENTS = [
  'opened',
  'acknowledged',
  'checked',
  'resolved',
  'reopened',
  'no-longer-seen',
  'seen-again',
  'closed',
] as const
export type FindingEventKind = (typeof FINDING_EVENTS)[number]

/** What a finding may turn out to be: a cause of the list, another one, or nothing wrong at all. */
export const CONFIRMABLE_CAUSES = [...CAUSES, 'other', 'none'] as const
export type ConfirmableCause = (typeof CONFIRMABLE_CAUSES)[number]

/** The position kind that a label stands for. */
export function positionKindOf(label: string): PositionKind {
  const wanted = label.trim().toLowerCase()
  return POSITION_KINDS.find((kind) => wanted === kind || wanted.startsWith(`${kind} `)) ?? 'other'
}
