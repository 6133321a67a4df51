import { and, asc, eq, isNull, ne, or, sql } from 'drizzle-orm'
import type { Role } from '../../contract/vocabulary.js'
import type { Db } from '../client.js'
import { members, organisations, owners } from '../schema/index.js'

export type MemberRow = typeof members.$inferSelect

export interface MembershipRow {
  readonly organisationId: string
  readonly organisation: string
  readonly role: Role
}

/** Where an address is a member; oldest organisation first. */
export function membershipsOf(db: Db, email: string): Promise<MembershipRow[]> {
  return db
    .select({ organisationId: members.organisationId, organisation: organisations.name, role: members.role })
    .from(members)
    .innerJoin(organisations, eq(organisations.id, members.organisationId))
    .where(eq(members.email, email))
    .orderBy(asc(organisations.createdAt), asc(organisations.id))
}

/** Where an address is a boat owner's. */
export function organisationsOfOwner(db: Db, email: string): Promise<Omit<MembershipRow, 'role'>[]> {
  return db
    .selectDistinct({
      organisationId: owners.organisationId,
      organisation: organisations.name,
      createdAt: organisations.createdAt,
    })
    .from(owners)
    .innerJoin(organisations, eq(organisations.id, owners.organisationId))
    .where(sql`lower(${owners.email}) = ${email}`)
    .orderBy(asc(organisations.createdAt), asc(owners.organisationId))
}

/** Memberships of this address that no user stands behind yet, or another one. */
export function membershipsToLink(db: Db, email: string, userId: string): Promise<MemberRow[]> {
  return db
    .select()
    .from(members)
    .where(and(eq(members.email, email), or(isNull(members.userId), ne(members.userId, userId))))
}

export async function setMemberUser(db: Db, member: MemberRow, userId: string): Promise<void> {
  await db
    .update(members)
    .set({ userId })
    .where(and(eq(members.organisationId, member.organisationId), eq(members.id, member.id)))
}

export function listMembers(db: Db, organisationId: string): Promise<MemberRow[]> {
  return db.select().from(members).where(eq(members.organisationId, organisationId)).orderBy(asc(members.email))
}

/** The organisation's members, held until the transaction ends: two changes cannot each take "the other" administrator. */
export function lockMembers(db: Db, organisationId: string): Promise<MemberRow[]> {
  return db
    .select()
    .from(members)
    .where(eq(members.organisationId, organisationId))
    .orderBy(asc(members.id))
    .for('update')
}

export async function insertMember(db: Db, values: typeof members.$inferInsert): Promise<MemberRow> {
  const [row] = await db.insert(members).values(values).returning()
  if (!row) throw new Error('the member was not inserted')
  return row
}

export async function setMemberRole(db: Db, member: MemberRow, role: Role): Promise<MemberRow> {
  const [row] = await db
    .update(members)
    .set({ role })
    .where(and(eq(members.organisationId, member.organisationId), eq(members.id, member.id)))
    .returning()
  if (!row) throw new Error('the member was not changed')
  return row
}

export async function deleteMember(db: Db, member: MemberRow): Promise<void> {
  await db.delete(members).where(and(eq(members.organisationId, member.organisationId), eq(members.id, member.id)))
}
