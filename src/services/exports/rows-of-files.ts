import { type AnyColumn, and, eq, type SQL, sql } from 'drizzle-orm'
import type { CsvFileName, CsvRowOf } from '../../contract/csv/index.js'
import { isMetal } from '../../contract/metals.js'
import { CONDITIONS, type Condition } from '../../contract/vocabulary.js'
import type { Db } from '../../db/client.js'
import { type Scope, visibleBoats } from '../../db/repositories/visibility.js'
import {
  anodes,
  berths,
  boats,
  continuityReadings,
  fittings,
  haulOuts,
  owners,
  pontoons,
  positions,
  potentials,
  stays,
  weighings,
} from '../../db/schema/index.js'

/** The rows of each file as they are stored, ordered by their key; of some boats, unless the file has none. */
export type RowsOfFiles = {
  readonly [N in CsvFileName]: (db: Db, scope: Scope, boatIds: readonly string[]) => Promise<CsvRowOf<N>[]>
}

const ofBoats = (scope: Scope, boatIds: readonly string[]) =>
  and(visibleBoats(scope), sql`${boats.id} = any(${sql.param(boatIds)}::uuid[])`)

/** By code point, on every server alike: a server's own collation would order files differently elsewhere. */
function byCodePoint(column: AnyColumn): SQL {
  return sql`${column} collate "C"`
}

const boatOf = (table: { organisationId: AnyColumn; boatId: AnyColumn }) =>
  and(eq(boats.organisationId, table.organisationId), eq(boats.id, table.boatId))

/** The boats whose rows an export has, in the order of its files. */
export async function boatsInOrder(db: Db, scope: Scope): Promise<string[]> {
  const rows = await db.select({ id: boats.id }).from(boats).where(visibleBoats(scope)).orderBy(byCodePoint(boats.name))
  return rows.map(({ id }) => id)
}

export const ROWS_OF_FILES: RowsOfFiles = {
  'berths.csv': (db, { organisationId }) =>
    db
      .select({
        berth: berths.name,
        pontoon: pontoons.name,
        water: berths.water,
        salinity_psu: berths.salinityPsu,
        latitude: berths.latitude,
        longitude: berths.longitude,
        shore_power: berths.shorePower,
      })
      .from(berths)
      .leftJoin(pontoons, and(eq(pontoons.organisationId, berths.organisationId), eq(pontoons.id, berths.pontoonId)))
      .where(eq(berths.organisationId, organisationId))
      .orderBy(byCodePoint(berths.name)),

  'boats.csv': (db, scope, boatIds) =>
    db
      .select({
        boat: boats.name,
        owner_name: owners.name,
        owner_email: owners.email,
        hull: boats.hull,
        galvanic_isolator: boats.galvanicIsolator,
        launched_year: boats.launchedYear,
      })
      .from(boats)
      .leftJoin(owners, and(eq(owners.organisationId, boats.organisationId), eq(owners.id, boats.ownerId)))
      .where(ofBoats(scope, boatIds))
      .orderBy(byCodePoint(boats.name)),

  'fittings.csv': async (db, scope, boatIds) => {
    const rows = await db
      .select({
        boat: boats.name,
        fitting: fittings.name,
        metal: fittings.metal,
        area_cm2: fittings.areaCm2,
        coated: fittings.coated,
        bonded: fittings.bonded,
      })
      .from(fittings)
      .innerJoin(boats, boatOf(fittings))
      .where(ofBoats(scope, boatIds))
      .orderBy(byCodePoint(boats.name), byCodePoint(fittings.name))
    // The column is free text; every way in accepts keys of the series alone.
    return rows.map((row) => ({ ...row, metal: row.metal !== null && isMetal(row.metal) ? row.metal : null }))
  },

  'anodes.csv': (db, scope, boatIds) =>
    db
      .select({
        boat: boats.name,
        anode: anodes.name,
        position: positions.label,
        alloy: anodes.alloy,
        shape: anodes.shape,
        fitted_on: anodes.fittedOn,
        removed_on: anodes.removedOn,
        gross_mass_g: anodes.grossMassG,
        core_mass_g: anodes.coreMassG,
        length_mm: anodes.lengthMm,
        width_mm: anodes.widthMm,
        height_mm: anodes.heightMm,
        bonded: anodes.bonded,
      })
      .from(anodes)
      .innerJoin(boats, boatOf(anodes))
      .innerJoin(
        positions,
        and(eq(positions.organisationId, anodes.organisationId), eq(positions.id, anodes.positionId)),
      )
      .where(ofBoats(scope, boatIds))
      .orderBy(byCodePoint(boats.name), byCodePoint(anodes.name)),

  'stays.csv': (db, scope, boatIds) =>
    db
      .select({
        boat: boats.name,
        from: stays.fromOn,
        to: stays.toOn,
        berth: berths.name,
        shore_power_hours_per_day: stays.shorePowerHoursPerDay,
      })
      .from(stays)
      .innerJoin(boats, boatOf(stays))
      .leftJoin(berths, and(eq(berths.organisationId, stays.organisationId), eq(berths.id, stays.berthId)))
      .where(ofBoats(scope, boatIds))
      .orderBy(byCodePoint(boats.name), stays.fromOn),

  'haul-outs.csv': (db, scope, boatIds) =>
    db
      .select({
        boat: boats.name,
        on: haulOuts.hauledOn,
        relaunched_on: haulOuts.relaunchedOn,
        planned: haulOuts.planned,
      })
      .from(haulOuts)
      .innerJoin(boats, boatOf(haulOuts))
      .where(ofBoats(scope, boatIds))
      .orderBy(byCodePoint(boats.name), haulOuts.hauledOn),

  'weighings.csv': async (db, scope, boatIds) => {
    const rows = await db
      .select({
        boat: boats.name,
        anode: anodes.name,
        weighed_on: weighings.weighedOn,
        method: weighings.method,
        mass_g: weighings.massG,
        resolution_g: weighings.resolutionG,
        cleaned: weighings.cleaned,
        submerged_mass_g: weighings.submergedMassG,
        submerged_in: weighings.submergedIn,
        wasted_percent: weighings.wastedPercent,
        length_mm: weighings.lengthMm,
        width_mm: weighings.widthMm,
        height_mm: weighings.heightMm,
        condition: weighings.conditions,
      })
      .from(weighings)
      .innerJoin(anodes, and(eq(anodes.organisationId, weighings.organisationId), eq(anodes.id, weighings.anodeId)))
      .innerJoin(boats, boatOf(anodes))
      .where(ofBoats(scope, boatIds))
      .orderBy(byCodePoint(boats.name), byCodePoint(anodes.name), weighings.weighedOn)
    return rows.map((row) => ({ ...row, condition: row.condition.filter(isCondition) }))
  },

  'potentials.csv': async (db, scope, boatIds) => {
    const rows = await db
      .select({
        boat: boats.name,
        measured_at: potentials.measuredAt,
        fitting: fittings.name,
        reference: potentials.reference,
        volts: potentials.volts,
        shore_power: potentials.shorePower,
        circuits: potentials.circuits,
      })
      .from(potentials)
      .innerJoin(boats, boatOf(potentials))
      .leftJoin(
        fittings,
        and(eq(fittings.organisationId, potentials.organisationId), eq(fittings.id, potentials.fittingId)),
      )
      .where(ofBoats(scope, boatIds))
      .orderBy(byCodePoint(boats.name), potentials.measuredAt, sql`${byCodePoint(fittings.name)} nulls first`)
    return rows.map((row) => ({ ...row, measured_at: inUtc(row.measured_at) }))
  },

  'continuity.csv': async (db, scope, boatIds) => {
    const rows = await db
      .select({
        boat: boats.name,
        measured_at: continuityReadings.measuredAt,
        from: continuityReadings.fromName,
        to: continuityReadings.toName,
        ohms: continuityReadings.ohms,
      })
      .from(continuityReadings)
      .innerJoin(boats, boatOf(continuityReadings))
      .where(ofBoats(scope, boatIds))
      .orderBy(
        byCodePoint(boats.name),
        continuityReadings.measuredAt,
        byCodePoint(continuityReadings.fromName),
        byCodePoint(continuityReadings.toName),
      )
    return rows.map((row) => ({ ...row, measured_at: inUtc(row.measured_at) }))
  },
}

function inUtc(instant: string): string {
  return new Date(instant).toISOString()
}

const KNOWN_CONDITIONS: ReadonlySet<string> = new Set(CONDITIONS)

function isCondition(code: string): code is Condition {
  return KNOWN_CONDITIONS.has(code)
}
