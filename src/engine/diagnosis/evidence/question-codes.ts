import type { Said, ValuesOf } from '../../said.js'

/**
 * What can be asked about a record, with the values that stand in the question. A `fitting` of '' is the bonded hull, a `part` of `bond`
 * the bonding; `volts` [V] as read, `spread` [V], `density` [g/cm³], `salinityPsu` [psu], masses [g]. `ohms` [Ω] is as it stands on record
 * where it is no resistance.
 */
export const QUESTION_CODES = {
  'potential/no-number': ['fitting'],
  'potential/no-reference': ['fitting', 'volts'],
  'potential/sign': ['fitting', 'volts', 'electrode'],
  'potential/below-any': ['fitting', 'volts', 'electrode'],
  'potential/drifting': ['fitting', 'readings', 'spread'],
  'continuity/cannot-be': ['ohms', 'from', 'to'],
  'continuity/on-no-list': ['ohms', 'part'],
  'continuity/itself': ['part'],
  'look/conflict': ['anode', 'one', 'other'],
  'density/not-below': ['anode', 'submergedG', 'dryG'],
  'density/no-alloy': ['anode', 'density'],
  'density/not-together': ['anode'],
  'water/contradiction': ['berth', 'water', 'salinityPsu'],
  'bond/unknown': ['anode', 'alloy', 'otherAnode', 'otherAlloy'],
} as const

export type RecordQuestionCode = keyof typeof QUESTION_CODES

/** A question about the record. */
export function ask<Code extends RecordQuestionCode>(
  code: Code,
  values: ValuesOf<typeof QUESTION_CODES, Code>,
): Said<RecordQuestionCode> {
  return { code, values }
}
