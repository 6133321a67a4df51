import { and, desc, eq, inArray, type SQL, sql } from 'drizzle-orm'
import type { PgColumn } from 'drizzle-orm/pg-core'
import type { Db } from '../client.js'
import {
  anodes,
  auditEntries,
  berths,
  boats,
  continuityReadings,
  fittings,
  haulOuts,
  organisations,
  pontoons,
  positions,
  potentials,
  stays,
  weighings,
} from '../schema/index.js'
import { findingsOf } from './findings.js'

/** Who writes what a fit has found. */
export const REFIT_ACTOR = 'refit'

/** Everything that rates, forecasts and findings rest on, as it lies in the tables. */
export type FleetRecords = Awaited<ReturnType<typeof readFleetRecords>>

/**
 * Reads a fleet for the engine, all boats or the ones given. One statement a table, in the caller's transaction, so that
 * it is one moment's view.
 */
export async function readFleetRecords(tx: Db, organisationId: string, boatIds?: readonly string[]) {
  const of = (table: { organisationId: PgColumn }, boatColumn: PgColumn) =>
    and(eq(table.organisationId, organisationId), boatIds && inArray(boatColumn, [...boatIds]))
  const [organisation] = await tx.select().from(organisations).where(eq(organisations.id, organisationId))
  const anodeRows = await tx
    .select({ anode: anodes, position: positions })
    .from(anodes)
    .innerJoin(positions, and(eq(positions.organisationId, anodes.organisationId), eq(positions.id, anodes.positionId)))
    .where(of(anodes, anodes.boatId))
    .orderBy(anodes.boatId, anodes.fittedOn, anodes.id)
  const weighingRows = await tx
    .select({ weighing: weighings })
    .from(weighings)
    .innerJoin(anodes, and(eq(anodes.organisationId, weighings.organisationId), eq(anodes.id, weighings.anodeId)))
    .where(of(weighings, anodes.boatId))
    .orderBy(weighings.anodeId, weighings.weighedOn)
  return {
    wastingThreshold: organisation?.wastingThreshold,
    falseDiscoveryRate: organisation?.falseDiscoveryRate,
    pontoons: await tx
      .select()
      .from(pontoons)
      .where(eq(pontoons.organisationId, organisationId))
      .orderBy(pontoons.name),
    berths: await tx.select().from(berths).where(eq(berths.organisationId, organisationId)).orderBy(berths.name),
    boats: await tx.select().from(boats).where(of(boats, boats.id)).orderBy(boats.name),
    fittings: await tx.select().from(fittings).where(of(fittings, fittings.boatId)).orderBy(fittings.name),
    stays: await tx.select().from(stays).where(of(stays, stays.boatId)).orderBy(stays.boatId, stays.fromOn),
    haulOuts: await tx.select().from(haulOuts).where(of(haulOuts, haulOuts.boatId)).orderBy(haulOuts.hauledOn),
    potentials: await tx
      .select()
      .from(potentials)
      .where(of(potentials, potentials.boatId))
      .orderBy(potentials.boatId, potentials.measuredAt, potentials.id),
    continuity: await tx
      .select()
      .from(continuityReadings)
      .where(of(continuityReadings, continuityReadings.boatId))
      .orderBy(continuityReadings.boatId, continuityReadings.measuredAt, continuityReadings.id),
    findings: await findingsOf(tx, organisationId),
    anodes: anodeRows,
    weighings: weighingRows.map(({ weighing }) => weighing),
  }
}

/** Entries of the audit trail that make a fit old: not what a refit finds itself, nor the steps that change no forecast. */
export const bearsOnForecasts: SQL = sql`not (${auditEntries.tableName} = 'finding_events' and (
  ${auditEntries.actor} = ${REFIT_ACTOR} or ${auditEntries.after} ->> 'kind' not in ('checked', 'resolved', 'reopened')
  or ${auditEntries.after} ->> 'kind' = 'checked' and ${auditEntries.after} #>> '{data,check,confirms}' is null))`

/** The newest entry of an organisation's audit trail that forecasts rest on: what has changed since a fit has a higher number. */
export async function dataRevision(tx: Db, organisationId: string): Promise<number> {
  const [row] = await tx
    .select({ newest: auditEntries.id })
    .from(auditEntries)
    .where(and(eq(auditEntries.organisationId, organisationId), bearsOnForecasts))
    .orderBy(desc(auditEntries.id))
    .limit(1)
  return row?.newest ?? 0
}
