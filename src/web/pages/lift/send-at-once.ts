import { dropPhotosOfDraft } from '../../offline/draft-photos.js'
import { takeOut } from '../../offline/outbox.js'
import { draftBody } from '../haul-out/draft-body.js'
import { logWithPhotos } from '../haul-out/log-haul-out.js'
import type { AtLift } from './boat-at-lift-page.js'

/**
 * Sends what was entered past the outbox, for a phone that has no room to keep it. Repeated, it logs nothing twice.
 *
 * @returns how many photos were not taken; null where a figure cannot be read
 * @throws Unreachable, ServiceProblem; what was entered is as it was
 */
export async function sendAtOnce({ boat, drafting: { draft }, placed, photos }: AtLift): Promise<number | null> {
  const anodes = placed.map(({ anode }) => anode.name)
  const { body, problems } = draftBody(draft, anodes)
  if (problems.length > 0) return null
  const files = anodes.map((name) => {
    const own = photos.filter(({ anode }) => anode === name)
    return [name, own.map((photo) => new File([photo.blob], photo.name, { type: photo.blob.type }))] as const
  })
  const sending = { boat: boat.id, body, idempotencyKey: draft.idempotencyKey, photos: new Map(files) }
  const { photosRefused } = await logWithPhotos(sending)
  await dropPhotosOfDraft(boat.name)
  if (draft.mends !== undefined) await takeOut(draft.mends)
  return photosRefused.length
}
