import { sql } from 'drizzle-orm'
import type { Db } from '../../../db/client.js'
import { anodes, haulOuts, weighings } from '../../../db/schema/index.js'

/**
 * Ties stored weighings that belong to no haul-out to the one of their boat on their day: the haul-out may come in a later file than
 * they did.
 */
export async function linkWeighings(tx: Db, organisationId: string, haulOutIds: readonly string[]): Promise<void> {
  if (haulOutIds.length === 0) return
  await tx.execute(sql`update ${weighings} set haul_out_id = lifts.id
    from ${haulOuts} as lifts join ${anodes} as fitted
      on fitted.organisation_id = lifts.organisation_id and fitted.boat_id = lifts.boat_id
    where lifts.organisation_id = ${organisationId}::uuid and lifts.id = any(${sql.param(haulOutIds)}::uuid[])
      and ${weighings}.organisation_id = lifts.organisation_id and ${weighings}.anode_id = fitted.id
      and ${weighings}.weighed_on = lifts.hauled_on and ${weighings}.haul_out_id is null`)
}
