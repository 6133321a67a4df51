import { and, eq, gt, or, sql } from 'drizzle-orm'
import type { Db } from '../client.js'
import { anodes, auditEntries } from '../schema/index.js'
import { bearsOnForecasts } from './fleet-records.js'

/** What changes nothing but one boat's masses; a change elsewhere (a berth, a fitting) may touch the whole fit. */
const MASSES = ['weighings', 'anodes', 'haul_outs', 'photos', 'positions']

/**
 * The boats whose masses have changed since an entry of the audit trail, where nothing else has.
 *
 * @returns `null` where something else changed too
 */
export async function boatsTouchedSince(tx: Db, organisationId: string, revision: number): Promise<string[] | null> {
  const since = and(eq(auditEntries.organisationId, organisationId), gt(auditEntries.id, revision), bearsOnForecasts)
  const [other] = await tx
    .select({ id: auditEntries.id })
    .from(auditEntries)
    .where(and(since, sql`${auditEntries.tableName} <> all(${sql.param(MASSES)}::text[])`))
    .limit(1)
  if (other !== undefined) return null
  const row = sql`coalesce(${auditEntries.after}, ${auditEntries.before})`
  const changed = tx
    .select({
      boat: sql<string>`(${row} ->> 'boat_id')::uuid`.as('boat'),
      anode: sql<string>`(${row} ->> 'anode_id')::uuid`.as('anode'),
    })
    .from(auditEntries)
    .where(since)
    .as('changed')
  const rows = await tx
    .selectDistinct({ boatId: anodes.boatId })
    .from(anodes)
    .innerJoin(changed, or(eq(anodes.id, changed.anode), eq(anodes.boatId, changed.boat)))
    .where(eq(anodes.organisationId, organisationId))
  return rows.map(({ boatId }) => boatId)
}
