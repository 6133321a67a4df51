import { and, eq, isNotNull } from 'drizzle-orm'
import type { Db } from '../client.js'
import { photos } from '../schema/index.js'

/** The photos of a boat's weighings, by weighing, oldest first. */
export async function photosOfBoat(db: Db, organisationId: string, boatId: string): Promise<Map<string, string[]>> {
  const rows = await db
    .select({ id: photos.id, weighingId: photos.weighingId })
    .from(photos)
    .where(and(eq(photos.organisationId, organisationId), eq(photos.boatId, boatId), isNotNull(photos.weighingId)))
    .orderBy(photos.createdAt, photos.id)
  const byWeighing = new Map<string, string[]>()
  for (const { id, weighingId } of rows) {
    if (weighingId !== null) byWeighing.set(weighingId, [...(byWeighing.get(weighingId) ?? []), id])
  }
  return byWeighing
}
