import { asc, eq, sql } from 'drizzle-orm'
import type { Db } from '../client.js'
import { priceLists, prices } from '../schema/index.js'

export type PriceRow = Omit<typeof prices.$inferSelect, 'organisationId' | 'place'>

export interface PriceListRow {
  readonly currency: string
  readonly version: number
  readonly prices: readonly PriceRow[]
}

const COLUMNS = {
  kind: prices.kind,
  alloy: prices.alloy,
  shape: prices.shape,
  massG: prices.massG,
  since: prices.since,
  cents: prices.cents,
}

export async function findPriceList(db: Db, organisationId: string): Promise<PriceListRow | undefined> {
  const [list] = await db
    .select({ currency: priceLists.currency, version: priceLists.version })
    .from(priceLists)
    .where(eq(priceLists.organisationId, organisationId))
  if (list === undefined) return undefined
  const rows = await db
    .select(COLUMNS)
    .from(prices)
    .where(eq(prices.organisationId, organisationId))
    .orderBy(asc(prices.place))
  return { ...list, prices: rows }
}

/** The version of the list, held until the transaction ends; 0 where there is none yet. */
export async function lockPriceList(tx: Db, organisationId: string): Promise<number> {
  // Two first lists at once would both find none.
  await tx.execute(sql`select pg_advisory_xact_lock(hashtextextended(${`prices ${organisationId}`}, 0))`)
  const [list] = await tx
    .select({ version: priceLists.version })
    .from(priceLists)
    .where(eq(priceLists.organisationId, organisationId))
    .for('update')
  return list?.version ?? 0
}

/** Puts a list in the place of the one before. */
export async function replacePriceList(
  tx: Db,
  organisationId: string,
  { currency, prices: rows, version }: PriceListRow,
): Promise<void> {
  await tx
    .insert(priceLists)
    .values({ organisationId, currency, version })
    .onConflictDoUpdate({ target: priceLists.organisationId, set: { currency, version } })
  await tx.delete(prices).where(eq(prices.organisationId, organisationId))
  if (rows.length > 0) await tx.insert(prices).values(rows.map((row, place) => ({ ...row, organisationId, place })))
}
