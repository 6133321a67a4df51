import { and, eq, inArray, or, type SQL, sql } from 'drizzle-orm'
import type { PhotoQuery } from '../../contract/photos.js'
import type { Db } from '../client.js'
import { anodes, boats, haulOuts, photos, weighings } from '../schema/index.js'
import { dateKey, instantKey, keysetOf } from './paging.js'
import { meantBy, utcInstant } from './references.js'
import { type Scope, visibleBoats } from './visibility.js'

/** What a photo shows. */
export type PhotoSubject =
  | { readonly kind: 'weighing'; readonly id: string }
  | { readonly kind: 'haul-out'; readonly id: string }

export type PhotoValues = Pick<
  typeof photos.$inferInsert,
  'boatId' | 'sha256' | 'mediaType' | 'widthPx' | 'heightPx' | 'bytes'
>

const shownOn = sql<string>`coalesce(${weighings.weighedOn}, ${haulOuts.hauledOn})`

const SORT_KEYS = { date: dateKey(shownOn), createdAt: instantKey(photos.createdAt) }

/** A photo with what it shows: boat, anode and day. */
export type PhotoRecord = Omit<Awaited<ReturnType<typeof records>>[number], 'cursorValue'>

export async function pageOfPhotos(
  db: Db,
  scope: Scope,
  boatId: string,
  query: PhotoQuery,
): Promise<{ items: PhotoRecord[]; nextCursor: string | null }> {
  const keyset = keysetOf('photos', query, SORT_KEYS, photos.id)
  const rows = await records(db, keyset.cursorValue)
    .where(and(visibleBoats(scope), eq(photos.boatId, boatId), ...filtersOf(query), keyset.after))
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, toRecord)
}

export async function findPhoto(db: Db, scope: Scope, id: string): Promise<PhotoRecord | undefined> {
  const [row] = await records(db, sql`null`).where(and(visibleBoats(scope), eq(photos.id, id)))
  return row && toRecord(row)
}

/** Those of these pictures that a subject has already. */
export async function photosOfSubject(
  db: Db,
  organisationId: string,
  subject: PhotoSubject,
  hashes: readonly string[],
): Promise<PhotoRecord[]> {
  const rows = await records(db, sql`null`).where(
    and(eq(photos.organisationId, organisationId), ofSubject(subject), inArray(photos.sha256, [...hashes])),
  )
  return rows.map(toRecord)
}

export async function insertPhotos(
  tx: Db,
  organisationId: string,
  subject: PhotoSubject,
  values: readonly PhotoValues[],
): Promise<void> {
  if (values.length === 0) return
  const of = subject.kind === 'weighing' ? { weighingId: subject.id } : { haulOutId: subject.id }
  await tx.insert(photos).values(values.map((one) => ({ ...one, ...of, organisationId })))
}

export async function deletePhoto(tx: Db, organisationId: string, id: string): Promise<void> {
  await tx.delete(photos).where(and(eq(photos.organisationId, organisationId), eq(photos.id, id)))
}

/** Whether any photo of an organisation shows this picture. */
export async function isPictureShown(db: Db, organisationId: string, sha256: string): Promise<boolean> {
  const rows = await db
    .select({ id: photos.id })
    .from(photos)
    .where(and(eq(photos.organisationId, organisationId), eq(photos.sha256, sha256)))
    .limit(1)
  return rows.length > 0
}

/**
 * Holds a stored picture until the transaction ends: whoever makes a photo of it and whoever sweeps it away take turns,
 * so that no row is left without its file.
 */
export async function lockPicture(tx: Db, organisationId: string, sha256: string): Promise<void> {
  await tx.execute(sql`select pg_advisory_xact_lock(hashtextextended(${`photo ${organisationId} ${sha256}`}, 0))`)
}

function ofSubject({ kind, id }: PhotoSubject): SQL {
  return kind === 'weighing' ? eq(photos.weighingId, id) : eq(photos.haulOutId, id)
}

function records(db: Db, cursorValue: SQL<string | null>) {
  return db
    .select({
      id: photos.id,
      organisationId: photos.organisationId,
      boat: boats.name,
      weighingId: photos.weighingId,
      haulOutId: photos.haulOutId,
      anode: anodes.name,
      date: shownOn,
      sha256: photos.sha256,
      mediaType: photos.mediaType,
      widthPx: photos.widthPx,
      heightPx: photos.heightPx,
      bytes: photos.bytes,
      createdAt: photos.createdAt,
      version: photos.version,
      cursorValue,
    })
    .from(photos)
    .innerJoin(boats, and(eq(boats.organisationId, photos.organisationId), eq(boats.id, photos.boatId)))
    .leftJoin(weighings, and(eq(weighings.organisationId, photos.organisationId), eq(weighings.id, photos.weighingId)))
    .leftJoin(anodes, and(eq(anodes.organisationId, weighings.organisationId), eq(anodes.id, weighings.anodeId)))
    .leftJoin(haulOuts, and(eq(haulOuts.organisationId, photos.organisationId), eq(haulOuts.id, photos.haulOutId)))
    .$dynamic()
}

function filtersOf({ anode, weighing, haulOut }: PhotoQuery): (SQL | undefined)[] {
  return [
    anode === undefined ? undefined : meantBy(anodes, anode),
    weighing === undefined ? undefined : eq(photos.weighingId, weighing),
    haulOut === undefined ? undefined : or(eq(photos.haulOutId, haulOut), eq(weighings.haulOutId, haulOut)),
  ]
}

function toRecord({ cursorValue: _, ...row }: Awaited<ReturnType<typeof records>>[number]): PhotoRecord {
  return { ...row, createdAt: utcInstant(row.createdAt) }
}
