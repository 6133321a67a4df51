import { and, eq, gt, inArray, or, sql } from 'drizzle-orm'
import type { Db } from '../client.js'
import { auditEntries } from '../schema/index.js'

/** Something that was known of a boat and has been changed since: its newest entry of the audit trail. */
export interface Correction {
  readonly revision: number
  readonly boatId: string | null
  readonly anodeId: string | null
  /** Of what was added: its day. `null` where something was changed or taken away. */
  readonly addedOn: string | null
}

const row = sql`coalesce(${auditEntries.after}, ${auditEntries.before})`
const before = auditEntries.before
const after = auditEntries.after
/** What is written in the course of things: an anode is removed, a stay ends. */
const IN_THE_COURSE_OF_THINGS = sql`'{version,removed_on,to_on}'::text[]`

/** What was changed in the weighings, anodes and stays of these boats since an entry of the audit trail. */
export async function correctionsSince(
  tx: Db,
  organisationId: string,
  revision: number,
  of: { readonly boatIds: readonly string[]; readonly anodeIds: readonly string[] },
): Promise<Correction[]> {
  const text = (ids: readonly string[]) => sql`${sql.param([...ids])}::text[]`
  const entries = await tx
    .select({
      revision: auditEntries.id,
      boatId: sql<string | null>`${row} ->> 'boat_id'`,
      anodeId: sql<string | null>`case when ${auditEntries.tableName} = 'anodes' then ${row} ->> 'id'
        else ${row} ->> 'anode_id' end`,
      addedOn: sql<string | null>`case when ${auditEntries.action} = 'insert' then
        coalesce(${after} ->> 'weighed_on', ${after} ->> 'from_on', ${after} ->> 'fitted_on') end`,
    })
    .from(auditEntries)
    .where(
      and(
        eq(auditEntries.organisationId, organisationId),
        gt(auditEntries.id, revision),
        inArray(auditEntries.tableName, ['weighings', 'anodes', 'stays']),
        or(
          sql`${row} ->> 'boat_id' = any(${text(of.boatIds)})`,
          sql`${row} ->> 'anode_id' = any(${text(of.anodeIds)})`,
        ),
        sql`(${auditEntries.action} <> 'update' or ${before} - ${IN_THE_COURSE_OF_THINGS} is distinct from
          ${after} - ${IN_THE_COURSE_OF_THINGS})`,
      ),
    )
  return entries
}
