import { and, asc, desc, eq, or, type SQL, sql } from 'drizzle-orm'
import { rowsOf } from '../backup/table-shapes.js'
import type { Db } from '../client.js'
import {
  auditEntries,
  authUsers,
  boats,
  calendarFeeds,
  findingEvents,
  members,
  notices,
  owners,
  savedViews,
} from '../schema/index.js'

interface PersonKey {
  readonly organisationId: string
  /** In small letters. */
  readonly email: string
}

/** What an organisation has on record of a person, by their address. */
export async function recordsOfPerson(db: Db, { organisationId, email }: PersonKey) {
  const actor = `person:${email}`
  const owned = and(eq(owners.organisationId, organisationId), eq(sql`lower(${owners.email})`, email))
  const [member] = await db
    .select({ role: members.role })
    .from(members)
    .where(and(eq(members.organisationId, organisationId), eq(members.email, email)))
  const names = await db.select({ name: owners.name }).from(owners).where(owned).orderBy(asc(owners.name))
  const theirBoats = await db
    .select({ name: boats.name })
    .from(boats)
    .innerJoin(owners, and(eq(owners.organisationId, boats.organisationId), eq(owners.id, boats.ownerId)))
    .where(and(eq(boats.organisationId, organisationId), owned))
    .orderBy(asc(boats.name))
  const letters = await db
    .select({
      kind: notices.kind,
      boat: boats.name,
      decidedOn: notices.decidedOn,
      state: notices.state,
      sentAt: notices.sentAt,
    })
    .from(notices)
    .leftJoin(boats, and(eq(boats.organisationId, notices.organisationId), eq(boats.id, notices.boatId)))
    .where(and(eq(notices.organisationId, organisationId), eq(notices.email, email)))
    .orderBy(desc(notices.decidedOn), asc(notices.id))
  const [user] = await db
    .select({ id: authUsers.id })
    .from(authUsers)
    .where(eq(sql`lower(${authUsers.email})`, email))
  const count = async (
    table: typeof calendarFeeds | typeof savedViews | typeof findingEvents | typeof auditEntries,
    where: SQL,
  ) => {
    const [row] = await db
      .select({ rows: sql<number>`count(*)::int` })
      .from(table)
      .where(and(eq(table.organisationId, organisationId), where))
    return row?.rows ?? 0
  }
  // By the words that are taken out when somebody is forgotten: an address may be part of another.
  const ownerNames = names.flatMap(({ name }) => name ?? [])
  const named = (text: SQL) => sql`${text} is distinct from without_person(${text}, array[${email}::text], '')`
  return {
    role: member?.role ?? null,
    ownerNames,
    boats: theirBoats.map(({ name }) => name),
    letters,
    notes: await notesNaming(db, organisationId, [email, ...ownerNames.filter(isFullName)]),
    hasSignedIn: user !== undefined,
    calendarFeeds: await count(calendarFeeds, eq(calendarFeeds.email, email)),
    savedViews: await count(savedViews, eq(savedViews.person, actor)),
    stepsOfFindings: await count(findingEvents, eq(findingEvents.actor, actor)),
    changes: await count(
      auditEntries,
      or(
        eq(auditEntries.actor, actor),
        named(sql`${auditEntries.before}::text`),
        named(sql`${auditEntries.after}::text`),
      ) as SQL,
    ),
  }
}

/** A name of one word may be anything in a note (migrations/0018). */
const isFullName = (name: string) => /\S\s+\S/.test(name)

async function notesNaming(db: Db, organisationId: string, words: readonly string[]): Promise<string[]> {
  const said = sql`array[${sql.join(
    words.map((word) => sql`${word}`),
    sql`, `,
  )}]::text[]`
  const rows = await rowsOf<{ note: string }>(
    db,
    sql`select distinct note from (
        select note from haul_outs where organisation_id = ${organisationId}
        union all select note from weighings where organisation_id = ${organisationId}
        union all select note from finding_events where organisation_id = ${organisationId}
      ) as written where note <> without_person(note, ${said}, '') order by note`,
  )
  return rows.map(({ note }) => note)
}

interface Forgotten {
  readonly email: string
  readonly alias: string
}

/** Why, as the trail says it of each row that this changes. */
export const FORGETTING = 'a person is forgotten'

/** What stands where an address has to (RFC 2606, 2: no letter ever arrives there). */
export function addressOfAlias(alias: string): string {
  return `${alias}@people.invalid`
}

/** Puts an alias in a person's place, in the organisation that the transaction works for (migrations/0018). */
export function forgetPerson(db: Db, { email, alias }: Forgotten): Promise<{ table: string; rows: number }[]> {
  return rowsOf(
    db,
    sql`select changed as "table", number::int as rows from forget_person(${email}, ${alias}, ${addressOfAlias(alias)}) where number > 0`,
  )
}
