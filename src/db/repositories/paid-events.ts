import { and, eq, isNotNull, lte } from 'drizzle-orm'
import type { Alloy } from '../../contract/vocabulary.js'
import type { Db } from '../client.js'
import { anodes, haulOuts } from '../schema/index.js'

/** An anode that was fitted, as it was bought. */
export interface FittedPart {
  readonly anode: string
  readonly on: string
  readonly alloy: Alloy | null
  readonly shape: string | null
  readonly massG: number | null
}

/** The anodes that were fitted to a boat up to a day; one whose day nobody knows was paid for nobody knows when. */
export async function fittedParts(db: Db, organisationId: string, boatId: string, day: string): Promise<FittedPart[]> {
  const rows = await db
    .select({
      anode: anodes.name,
      on: anodes.fittedOn,
      alloy: anodes.alloy,
      shape: anodes.shape,
      massG: anodes.grossMassG,
    })
    .from(anodes)
    .where(
      and(
        eq(anodes.organisationId, organisationId),
        eq(anodes.boatId, boatId),
        isNotNull(anodes.fittedOn),
        lte(anodes.fittedOn, day),
      ),
    )
  return rows.map((row) => ({ ...row, on: row.on! }))
}

/** Days on which a boat was hauled out, up to a day. */
export async function liftedDays(db: Db, organisationId: string, boatId: string, day: string): Promise<string[]> {
  const rows = await db
    .select({ on: haulOuts.hauledOn })
    .from(haulOuts)
    .where(and(eq(haulOuts.organisationId, organisationId), eq(haulOuts.boatId, boatId), lte(haulOuts.hauledOn, day)))
  return rows.map(({ on }) => on)
}
