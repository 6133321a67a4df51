import { and, asc, eq, getTableColumns, isNull, ne, or, sql } from 'drizzle-orm'
import type { Page, PageRequest } from '../../contract/paging.js'
import type { Role } from '../../contract/vocabulary.js'
import type { Db } from '../client.js'
import { members, organisations, owners } from '../schema/index.js'
import { instantKey, keysetOf, textKey } from './paging.js'

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

const SORT_KEYS = { email: textKey(members.email), createdAt: instantKey(members.createdAt) }

export async function pageOfMembers<Item>(
  db: Db,
  organisationId: string,
  request: PageRequest<keyof typeof SORT_KEYS>,
  toItem: (row: MemberRow) => Item,
): Promise<Page<Item>> {
  const keyset = keysetOf('members', request, SORT_KEYS, members.id)
  const rows = await db
    .select({ ...getTableColumns(members), cursorValue: keyset.cursorValue })
    .from(members)
    .where(and(eq(members.organisationId, organisationId), keyset.after))
    .orderBy(...keyset.orderBy)
    .limit(keyset.limit)
  return keyset.page(rows, toItem)
}

/** Whom letters to those who work here go to. */
export async function addressesOfTeam(db: Db, organisationId: string): Promise<Pick<MemberRow, 'email' | 'role'>[]> {
  return db
    .select({ email: members.email, role: members.role })
    .from(members)
    .where(eq(members.organisationId, organisationId))
    .orderBy(members.email)
}

export async function findMember(db: Db, organisationId: string, id: string): Promise<MemberRow | undefined> {
  const [row] = await db
    .select()
    .from(members)
    .where(and(eq(members.organisationId, organisationId), eq(members.id, id)))
  return row
}

export async function countAdministrators(db: Db, organisationId: string): Promise<number> {
  return db.$count(members, and(eq(members.organisationId, organisationId), eq(members.role, 'administrator')))
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
