import { and, eq, inArray, isNull, notInArray } from 'drizzle-orm'
import type { Db } from '../client.js'
import { anodes, findings } from '../schema/index.js'
import type { KeptWhy } from './notices.js'

/** What of a letter's reasons still holds: anodes that are in place, findings that nobody has settled. */
export async function stillTrue(db: Db, organisationId: string, why: readonly KeptWhy[]): Promise<KeptWhy[]> {
  const anodeIds = why.flatMap(({ anodeId }) => anodeId ?? [])
  const findingIds = why.flatMap(({ finding }) => finding ?? [])
  const inPlace = anodeIds.length === 0 ? [] : await anodesInPlace(db, organisationId, anodeIds)
  const open = findingIds.length === 0 ? [] : await openFindings(db, organisationId, findingIds)
  const left = new Set([...inPlace, ...open])
  return why.filter(({ anodeId, finding }) => left.has(anodeId ?? finding ?? ''))
}

async function anodesInPlace(db: Db, organisationId: string, ids: string[]): Promise<string[]> {
  const rows = await db
    .select({ id: anodes.id })
    .from(anodes)
    .where(and(eq(anodes.organisationId, organisationId), inArray(anodes.id, ids), isNull(anodes.removedOn)))
  return rows.map(({ id }) => id)
}

async function openFindings(db: Db, organisationId: string, ids: string[]): Promise<string[]> {
  const rows = await db
    .select({ id: findings.id })
    .from(findings)
    .where(
      and(
        eq(findings.organisationId, organisationId),
        inArray(findings.id, ids),
        notInArray(findings.state, ['resolved', 'closed']),
      ),
    )
  return rows.map(({ id }) => id)
}
