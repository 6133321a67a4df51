import { and, desc, eq, gt, isNull, notExists, or, sql } from 'drizzle-orm'
import type { ForecastItem } from '../../contract/forecasts.js'
import type { KeptOutlook, ModelSummary } from '../../engine/forecast/fleet-forecast.js'
import type { Calibration } from '../../engine/scoring/calibration.js'
import type { Db } from '../client.js'
import { anodes, forecasts, modelFits } from '../schema/index.js'

/** What a fit leaves behind beside its forecasts. */
export interface KeptSummary extends ModelSummary {
  readonly calibration: Calibration
}

/** One forecast as issued. */
export interface IssuedForecast {
  readonly anodeId: string
  readonly item: ForecastItem
  readonly outlook: KeptOutlook
}

export interface FitRow {
  readonly id: string
  readonly asOf: string
  readonly fittedAt: string
  readonly dataRevision: number
  readonly summary: KeptSummary
}

/** What was found for a past day from what was known by then. */
export interface HindsightFit extends Omit<FitRow, 'id' | 'summary'> {
  readonly summary: ModelSummary
}

/** Two refits may run at once: the one that saw more counts, whichever was done last. */
export const newestFitFirst = [
  desc(modelFits.asOf),
  desc(modelFits.dataRevision),
  desc(modelFits.fittedAt),
  desc(modelFits.id),
] as const

/** The newest fit of a day that was today. */
export async function newestFit(db: Db, organisationId: string): Promise<FitRow | undefined> {
  const [row] = await db
    .select()
    .from(modelFits)
    .where(and(eq(modelFits.organisationId, organisationId), eq(modelFits.hindsight, false)))
    .orderBy(...newestFitFirst)
    .limit(1)
  return row && { ...row, summary: row.summary as KeptSummary }
}

/** One of those that a fit issued, with the boat whose anode it is, whatever that is called by now. */
export interface KeptForecast extends IssuedForecast {
  readonly boatId: string
}

/** @param boatId of one boat alone; of all unless given */
export async function forecastsOfFit(
  db: Db,
  organisationId: string,
  fitId: string,
  boatId?: string,
): Promise<KeptForecast[]> {
  // An anode that was replaced since the fit has nothing to be forecast, though what was issued is kept.
  const stillInPlace = or(isNull(anodes.removedOn), gt(anodes.removedOn, forecasts.asOf))
  const rows = await db
    .select({ anodeId: forecasts.anodeId, boatId: anodes.boatId, item: forecasts.item, outlook: forecasts.outlook })
    .from(forecasts)
    .innerJoin(anodes, and(eq(anodes.organisationId, forecasts.organisationId), eq(anodes.id, forecasts.anodeId)))
    .where(
      and(
        eq(forecasts.organisationId, organisationId),
        eq(forecasts.fitId, fitId),
        stillInPlace,
        boatId === undefined ? undefined : eq(anodes.boatId, boatId),
      ),
    )
  return rows.map(({ anodeId, boatId: of, item, outlook }) => ({
    anodeId,
    boatId: of,
    item: completed(item as OlderItem),
    outlook: outlook as KeptOutlook,
  }))
}

/** What of an item forecasts issued by older versions lack. */
type OlderItem = Omit<ForecastItem, 'haulOutRisks'> & Partial<Pick<ForecastItem, 'haulOutRisks'>>

/** Forecasts issued before each planned lift had its risk know that of the next one. */
function completed(item: OlderItem): ForecastItem {
  const { nextHaulOut, riskBeforeNextHaulOut: risk } = item
  return { ...item, haulOutRisks: item.haulOutRisks ?? (nextHaulOut.planned ? [{ on: nextHaulOut.on, risk }] : []) }
}

/** Rows in one statement: enough to be quick, few enough for the protocol's count of parameters. */
const ROWS_PER_STATEMENT = 500

/** Keeps a fit and the forecasts it issued; those issued earlier on the same day are replaced. */
export async function saveFit(
  tx: Db,
  organisationId: string,
  fit: Omit<FitRow, 'id'>,
  issued: readonly IssuedForecast[],
): Promise<string> {
  const [row] = await tx
    .insert(modelFits)
    .values({ organisationId, ...fit, intervals: fit.summary.intervals })
    .returning({ id: modelFits.id })
  const fitId = row!.id
  await saveForecasts(tx, organisationId, { id: fitId, asOf: fit.asOf }, issued)
  await forgetFitsWithoutForecasts(tx, organisationId, fitId)
  return fitId
}

/** Keeps forecasts of a fit; those of the same anodes issued earlier on that day are replaced. */
export async function saveForecasts(
  tx: Db,
  organisationId: string,
  { id: fitId, asOf }: Pick<FitRow, 'id' | 'asOf'>,
  issued: readonly IssuedForecast[],
): Promise<void> {
  for (const rows of statements(issued, { organisationId, fitId, asOf, hindsight: false })) {
    await tx
      .insert(forecasts)
      .values(rows)
      .onConflictDoUpdate({
        target: [forecasts.organisationId, forecasts.anodeId, forecasts.asOf],
        set: {
          fitId: sql`excluded.fit_id`,
          hindsight: sql`excluded.hindsight`,
          recommendedOn: sql`excluded.recommended_on`,
          replaceP50: sql`excluded.replace_p50`,
          riskBeforeNextHaulOut: sql`excluded.risk_before_next_haul_out`,
          item: sql`excluded.item`,
          outlook: sql`excluded.outlook`,
        },
      })
  }
}

/** Says that a fit's forecasts know more of the data by now. */
export async function raiseRevision(tx: Db, organisationId: string, fitId: string, revision: number): Promise<void> {
  await tx
    .update(modelFits)
    .set({ dataRevision: revision })
    .where(and(eq(modelFits.organisationId, organisationId), eq(modelFits.id, fitId)))
}

/** Says anew how past forecasts did, once more of them can be judged. */
export async function saveSummary(tx: Db, organisationId: string, fitId: string, summary: KeptSummary): Promise<void> {
  await tx
    .update(modelFits)
    .set({ summary })
    .where(and(eq(modelFits.organisationId, organisationId), eq(modelFits.id, fitId)))
}

/** Keeps what a look back to a day found in place of an earlier look; forecasts that people have seen on that day stay. */
export async function saveHindsightFit(
  tx: Db,
  organisationId: string,
  fit: HindsightFit,
  issued: readonly IssuedForecast[],
): Promise<void> {
  const { asOf } = fit
  await tx
    .delete(modelFits)
    .where(and(eq(modelFits.organisationId, organisationId), eq(modelFits.asOf, asOf), eq(modelFits.hindsight, true)))
  const [row] = await tx
    .insert(modelFits)
    .values({ organisationId, ...fit, intervals: fit.summary.intervals, hindsight: true })
    .returning({ id: modelFits.id })
  for (const rows of statements(issued, { organisationId, fitId: row!.id, asOf, hindsight: true })) {
    await tx.insert(forecasts).values(rows).onConflictDoNothing()
  }
}

interface OfFit {
  readonly organisationId: string
  readonly fitId: string
  readonly asOf: string
  readonly hindsight: boolean
}

/** The rows of forecasts, in as many statements as they need. */
function statements(issued: readonly IssuedForecast[], ofFit: OfFit): (typeof forecasts.$inferInsert)[][] {
  const rows = issued.map(({ anodeId, item, outlook }) => ({
    ...ofFit,
    anodeId,
    recommendedOn: item.recommendedOn,
    replaceP50: item.replace.p50,
    riskBeforeNextHaulOut: item.riskBeforeNextHaulOut,
    item,
    outlook,
  }))
  const count = Math.ceil(rows.length / ROWS_PER_STATEMENT)
  return Array.from({ length: count }, (_, index) =>
    rows.slice(index * ROWS_PER_STATEMENT, (index + 1) * ROWS_PER_STATEMENT),
  )
}

/** A look back that found no anode stays: it says that the day has been looked at. */
async function forgetFitsWithoutForecasts(tx: Db, organisationId: string, except: string): Promise<void> {
  const itsForecasts = tx
    .select({ one: sql`1` })
    .from(forecasts)
    .where(and(eq(forecasts.organisationId, modelFits.organisationId), eq(forecasts.fitId, modelFits.id)))
  await tx
    .delete(modelFits)
    .where(
      and(
        eq(modelFits.organisationId, organisationId),
        eq(modelFits.hindsight, false),
        sql`${modelFits.id} <> ${except}`,
        notExists(itsForecasts),
      ),
    )
}
