import { SIGNS_AND_SAFETY } from '../../../engine/reference/signs-and-safety.js'
import type { Finding } from '../../api/findings.js'

const SHOCK = SIGNS_AND_SAFETY.find(({ key }) => key === 'electric-shock-drowning')?.text

/** Whether a finding comes with the caution of alternating current in the water. */
export function warnsOfCurrent({ safety }: Pick<Finding, 'safety'>): boolean {
  return safety.some((text) => text === SHOCK)
}
