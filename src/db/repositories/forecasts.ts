import { and, desc, eq, lt, notExists, sql } from 'drizzle-orm'
import type { ForecastItem } from '../../contract/forecasts.js'
import type { Calibration } from '../../engine/forecast/calibration.js'
import type { KeptOutlook, ModelSummary } from '../../engine/forecast/fleet-forecast.js'
import type { Db } from '../client.js'
import { forecasts, modelFits, weighings } from '../schema/index.js'

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

export async function newestFit(db: Db, organisationId: string): Promise<FitRow | undefined> {
  const [row] = await db
    .select()
    .from(modelFits)
    .where(eq(modelFits.organisationId, organisationId))
    .orderBy(desc(modelFits.fittedAt), desc(modelFits.id))
    .limit(1)
  return row && { ...row, summary: row.summary as KeptSummary }
}

export async function forecastsOfFit(db: Db, organisationId: string, fitId: string): Promise<IssuedForecast[]> {
  const rows = await db
    .select({ anodeId: forecasts.anodeId, item: forecasts.item, outlook: forecasts.outlook })
    .from(forecasts)
    .where(and(eq(forecasts.organisationId, organisationId), eq(forecasts.fitId, fitId)))
  return rows.map(({ anodeId, item, outlook }) => ({
    anodeId,
    item: item as ForecastItem,
    outlook: outlook as KeptOutlook,
  }))
}

/** A forecast and a later weighing of its anode: what calibration is made of. */
export interface JudgedForecast {
  readonly anodeId: string
  readonly weighedOn: string
  readonly outlook: KeptOutlook
}

/** Each scale weighing with the last forecast issued before its day. */
export async function judgedForecasts(db: Db, organisationId: string): Promise<JudgedForecast[]> {
  const rows = await db
    .selectDistinctOn([weighings.id], {
      anodeId: weighings.anodeId,
      weighedOn: weighings.weighedOn,
      outlook: forecasts.outlook,
    })
    .from(weighings)
    .innerJoin(
      forecasts,
      and(
        eq(forecasts.organisationId, weighings.organisationId),
        eq(forecasts.anodeId, weighings.anodeId),
        lt(forecasts.asOf, weighings.weighedOn),
      ),
    )
    .where(and(eq(weighings.organisationId, organisationId), eq(weighings.method, 'scale')))
    .orderBy(weighings.id, desc(forecasts.asOf))
  return rows.map((row) => ({ ...row, outlook: row.outlook as KeptOutlook }))
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
  for (let start = 0; start < issued.length; start += ROWS_PER_STATEMENT) {
    const rows = issued.slice(start, start + ROWS_PER_STATEMENT).map(({ anodeId, item, outlook }) => ({
      organisationId,
      fitId,
      anodeId,
      asOf: fit.asOf,
      recommendedOn: item.recommendedOn,
      replaceP50: item.replace.p50,
      riskBeforeNextHaulOut: item.riskBeforeNextHaulOut,
      item,
      outlook,
    }))
    await tx
      .insert(forecasts)
      .values(rows)
      .onConflictDoUpdate({
        target: [forecasts.organisationId, forecasts.anodeId, forecasts.asOf],
        set: {
          fitId: sql`excluded.fit_id`,
          recommendedOn: sql`excluded.recommended_on`,
          replaceP50: sql`excluded.replace_p50`,
          riskBeforeNextHaulOut: sql`excluded.risk_before_next_haul_out`,
          item: sql`excluded.item`,
          outlook: sql`excluded.outlook`,
        },
      })
  }
  await forgetFitsWithoutForecasts(tx, organisationId, fitId)
  return fitId
}

async function forgetFitsWithoutForecasts(tx: Db, organisationId: string, except: string): Promise<void> {
  const itsForecasts = tx
    .select({ one: sql`1` })
    .from(forecasts)
    .where(and(eq(forecasts.organisationId, modelFits.organisationId), eq(forecasts.fitId, modelFits.id)))
  await tx
    .delete(modelFits)
    .where(
      and(eq(modelFits.organisationId, organisationId), sql`${modelFits.id} <> ${except}`, notExists(itsForecasts)),
    )
}
