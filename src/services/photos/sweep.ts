import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { isPictureShown, lockPicture } from '../../db/repositories/photos.js'
import type { PhotoStore } from '../../outside/photo-store.js'
import { pictureOfKey } from './picture-keys.js'

/** Longer than any upload lies between its file and its row. */
const KEPT_UNSHOWN_MS = 24 * 60 * 60 * 1000

/**
 * Deletes the files of pictures that no photo shows: of photos, weighings, haul-outs and boats that were removed, and of
 * uploads that were refused halfway. Files of the last day stay, and so do files whose names are not ours.
 *
 * @returns how many were deleted
 */
export async function sweepPictures(db: Db, store: PhotoStore, now: Date): Promise<number> {
  const storedBefore = new Date(now.getTime() - KEPT_UNSHOWN_MS)
  let deleted = 0
  for await (const key of store.keys()) {
    if (await deleteUnshown(db, store, key, storedBefore)) deleted++
  }
  return deleted
}

async function deleteUnshown(db: Db, store: PhotoStore, key: string, storedBefore: Date): Promise<boolean> {
  const picture = pictureOfKey(key)
  if (!picture) return false
  const { organisationId, sha256 } = picture
  const acting = { organisationId, actor: 'photo sweep' }
  // Most are shown: asked without a lock first.
  if (await inOrganisation(db, acting, (tx) => isPictureShown(tx, organisationId, sha256))) return false
  return inOrganisation(db, acting, async (tx) => {
    await lockPicture(tx, organisationId, sha256)
    if (await isPictureShown(tx, organisationId, sha256)) return false
    const storedAt = await store.storedAt(key)
    if (storedAt === undefined || storedAt >= storedBefore) return false
    await store.delete(key)
    return true
  })
}
