import { and, asc, eq, exists, inArray, type SQL, sql } from 'drizzle-orm'
import type { Db } from '../client.js'
import { berths, drawnBerths, drawnPontoons, pontoons, stays } from '../schema/index.js'

export type DrawnPontoonRow = Omit<typeof drawnPontoons.$inferSelect, 'organisationId'>
export type DrawnBerthRow = Omit<typeof drawnBerths.$inferSelect, 'organisationId'>
export type PontoonToDraw = Awaited<ReturnType<typeof pontoonsToDraw>>[number]
export type BerthToDraw = Awaited<ReturnType<typeof berthsToDraw>>[number]

/** All pontoons, with their lines where they are drawn. */
export async function pontoonsToDraw(db: Db, organisationId: string) {
  return db
    .select({
      id: pontoons.id,
      name: pontoons.name,
      line: {
        shoreXM: drawnPontoons.shoreXM,
        shoreYM: drawnPontoons.shoreYM,
        headingDegrees: drawnPontoons.headingDegrees,
        berthLengthM: drawnPontoons.berthLengthM,
        berthWidthM: drawnPontoons.berthWidthM,
      },
    })
    .from(pontoons)
    .leftJoin(
      drawnPontoons,
      and(eq(drawnPontoons.organisationId, pontoons.organisationId), eq(drawnPontoons.pontoonId, pontoons.id)),
    )
    .where(eq(pontoons.organisationId, organisationId))
    .orderBy(asc(pontoons.name))
}

/** All berths, with their places where they are drawn on the pontoon that they are on. */
export async function berthsToDraw(db: Db, organisationId: string) {
  const itsStays = db
    .select({ one: sql`1` })
    .from(stays)
    .where(and(eq(stays.organisationId, berths.organisationId), eq(stays.berthId, berths.id)))
  return db
    .select({
      id: berths.id,
      name: berths.name,
      pontoonId: berths.pontoonId,
      side: drawnBerths.side,
      place: drawnBerths.place,
      hasStays: sql<boolean>`${exists(itsStays)}`,
    })
    .from(berths)
    .leftJoin(drawnBerths, isDrawnThere())
    .where(eq(berths.organisationId, organisationId))
    .orderBy(asc(drawnBerths.place), asc(berths.name))
}

/** What joins a berth to its place: one on another pontoon than it is on by now holds no longer. */
export function isDrawnThere(): SQL | undefined {
  return and(
    eq(drawnBerths.organisationId, berths.organisationId),
    eq(drawnBerths.berthId, berths.id),
    eq(drawnBerths.pontoonId, berths.pontoonId),
  )
}

/** Until the transaction ends nobody else draws, nor changes, the pontoons and berths that are there. */
export async function lockHarbour(tx: Db, organisationId: string): Promise<void> {
  await tx.execute(sql`select pg_advisory_xact_lock(hashtextextended(${`drawing ${organisationId}`}, 0))`)
  for (const table of [pontoons, berths]) {
    await tx
      .select({ id: table.id })
      .from(table)
      .where(eq(table.organisationId, organisationId))
      .orderBy(asc(table.id))
      .for('update')
  }
}

/** Puts a drawing in the place of the one before. */
export async function replaceDrawing(
  tx: Db,
  organisationId: string,
  lines: readonly DrawnPontoonRow[],
  places: readonly DrawnBerthRow[],
): Promise<void> {
  await tx.delete(drawnPontoons).where(eq(drawnPontoons.organisationId, organisationId))
  if (lines.length > 0) await tx.insert(drawnPontoons).values(lines.map((row) => ({ ...row, organisationId })))
  // A statement takes 65,535 values at most (the protocol of PostgreSQL counts them in two bytes).
  for (let from = 0; from < places.length; from += ROWS_AT_ONCE) {
    const part = places.slice(from, from + ROWS_AT_ONCE)
    await tx.insert(drawnBerths).values(part.map((row) => ({ ...row, organisationId })))
  }
}

const ROWS_AT_ONCE = 5000

export interface NewPontoon {
  readonly id: string
  readonly name: string
}

export interface NewBerthOnPontoon extends NewPontoon {
  readonly pontoonId: string
}

export async function insertPontoons(tx: Db, organisationId: string, rows: readonly NewPontoon[]): Promise<void> {
  if (rows.length > 0) await tx.insert(pontoons).values(rows.map((row) => ({ ...row, organisationId })))
}

export async function insertBerths(tx: Db, organisationId: string, rows: readonly NewBerthOnPontoon[]): Promise<void> {
  for (let from = 0; from < rows.length; from += ROWS_AT_ONCE) {
    const part = rows.slice(from, from + ROWS_AT_ONCE)
    await tx.insert(berths).values(part.map((row) => ({ ...row, organisationId })))
  }
}

/** @param pontoonId null for none */
export async function moveBerths(
  tx: Db,
  organisationId: string,
  ids: readonly string[],
  pontoonId: string | null,
): Promise<void> {
  await tx
    .update(berths)
    .set({ pontoonId })
    .where(and(eq(berths.organisationId, organisationId), inArray(berths.id, [...ids])))
}

export async function removeBerths(tx: Db, organisationId: string, ids: readonly string[]): Promise<void> {
  if (ids.length === 0) return
  await tx.delete(berths).where(and(eq(berths.organisationId, organisationId), inArray(berths.id, [...ids])))
}

/** Names that may be another's until the last of them is given: each goes by its id for a moment, which is nobody's name. */
export async function renameAll(
  tx: Db,
  organisationId: string,
  what: 'pontoons' | 'berths',
  renamed: readonly NewPontoon[],
): Promise<void> {
  const table = what === 'pontoons' ? pontoons : berths
  const rename = (id: string, name: string) =>
    tx
      .update(table)
      .set({ name })
      .where(and(eq(table.organisationId, organisationId), eq(table.id, id)))
  if (renamed.length > 1) for (const { id } of renamed) await rename(id, id)
  for (const { id, name } of renamed) await rename(id, name)
}
