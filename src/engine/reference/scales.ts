import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** Smallest step of the scale an anode is weighed on, where nobody noted it. */
export const USUAL_SCALE_STEP = {
  grams: 1,
  status: 'common practice',
  sources: ['boating-practice'],
  note: 'kitchen and parcel scales of a yard show whole grams',
} as const satisfies { grams: number; status: Status; sources: readonly SourceKey[]; note: string }
