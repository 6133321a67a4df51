import { and, eq, notInArray, sql } from 'drizzle-orm'
import type { Db } from '../client.js'
import { findings } from '../schema/index.js'

/** What the list of a whole fleet tells of a finding that is not settled. */
export interface OpenFindingRow {
  readonly id: string
  readonly direction: (typeof findings.$inferSelect)['direction']
  /** Ids of the anodes in whose wear it shows. */
  readonly anodes: readonly string[]
}

/** The unsettled findings of an organisation without their evidence, which weighs most, the oldest first. */
export async function openFindings(db: Db, organisationId: string): Promise<OpenFindingRow[]> {
  return db
    .select({
      id: findings.id,
      direction: findings.direction,
      anodes: sql<string[]>`${findings.detail} #> '{diagnosis,anomaly,anodes}'`,
    })
    .from(findings)
    .where(and(eq(findings.organisationId, organisationId), notInArray(findings.state, ['resolved', 'closed'])))
    .orderBy(findings.openedOn, findings.id)
}
