import { newKey } from '../../api/request-key.js'
import { ofDraft, putIntoOutbox } from '../../offline/outbox.js'
import type { Author } from '../../offline/outbox-entry.js'
import { draftBody } from '../haul-out/draft-body.js'
import type { AtLift } from './boat-at-lift-page.js'
import type { ReadOut } from './read-out.js'

/**
 * Puts what was entered into the outbox.
 *
 * @returns the entry's id; null where a figure cannot be read
 * @throws PhoneFull
 */
export async function queueHaulOut(at: AtLift, readOut: ReadOut, author: Author): Promise<number | null> {
  const { boat, drafting, placed } = at
  const { draft } = drafting
  const { body, sent, problems } = draftBody(
    draft,
    placed.map(({ anode }) => anode.name),
  )
  if (problems.length > 0) return null
  const isMended = draft.mends !== undefined
  const entry = {
    // A form that was mended is another request; the first one's key would give the refusal again.
    key: isMended ? newKey() : draft.idempotencyKey,
    boat: { id: boat.id, name: boat.name },
    author,
    body,
    anodes: sent,
    draft,
    readOut: readOut.lines,
    cautions: readOut.cautions,
  }
  return putIntoOutbox(entry, ofDraft(boat.name), draft.mends)
}
