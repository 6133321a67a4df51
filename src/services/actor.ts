import type { Role } from '../contract/vocabulary.js'
import type { Acting } from '../db/in-organisation.js'

/** Whoever asks, as services see them: decided once at the border, never guessed again. */
export interface Actor extends Acting {
  readonly role: Role
}
