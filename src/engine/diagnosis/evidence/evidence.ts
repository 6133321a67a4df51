import type { Said, ValuesOf } from '../../said.js'
import type { EVIDENCE_CODES, EvidenceCode } from './evidence-codes.js'

/** One observation made: its key and state in the tables of evidence, and the sentence that tells it with its figures. */
export interface Evidence extends Said<EvidenceCode> {
  readonly observation: string
  readonly state: string
}

/**
 * A piece of evidence.
 *
 * @param observation key in the tables of evidence
 * @param state of the observation, as the tables have it
 */
export function evidence<Code extends EvidenceCode>(
  observation: string,
  state: string,
  code: Code,
  values: ValuesOf<typeof EVIDENCE_CODES, Code>,
): Evidence {
  return { observation, state, code, values }
}
