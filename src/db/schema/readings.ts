import { sql } from 'drizzle-orm'
import { check, doublePrecision, pgTable, text, unique, uuid } from 'drizzle-orm/pg-core'
import { CIRCUIT_STATES, REFERENCE_ELECTRODES, SHORE_POWER_STATES } from '../../contract/vocabulary.js'
import { boats, fittings } from './boats.js'
import { instant, rowKey, rowReference, tenantColumns } from './columns.js'

/** Potential of a metal against a reference electrode; without a fitting it is the bonded hull's. */
export const potentials = pgTable(
  'potentials',
  {
    ...tenantColumns(),
    boatId: uuid('boat_id').notNull(),
    fittingId: uuid('fitting_id'),
    measuredAt: instant('measured_at').notNull(),
    reference: text('reference', { enum: REFERENCE_ELECTRODES }),
    volts: doublePrecision('volts').notNull(),
    shorePower: text('shore_power', { enum: SHORE_POWER_STATES }),
    circuits: text('circuits', { enum: CIRCUIT_STATES }),
  },
  (table) => [
    rowKey(table),
    rowReference(table, table.boatId, boats).onDelete('cascade'),
    rowReference(table, table.fittingId, fittings).onDelete('cascade'),
    unique('potentials_reading')
      .on(table.organisationId, table.boatId, table.measuredAt, table.fittingId)
      .nullsNotDistinct(),
    // No metal in water reads beyond this against any of the electrodes: magnesium against copper sulfate is near -1.7 V.
    check('potentials_volts_plausible', sql`${table.volts} between -3 and 3`),
  ],
)

/** Resistance of the bond between two named things: fittings, anodes, or `bond`. */
export const continuityReadings = pgTable(
  'continuity_readings',
  {
    ...tenantColumns(),
    boatId: uuid('boat_id').notNull(),
    measuredAt: instant('measured_at').notNull(),
    fromName: text('from_name').notNull(),
    toName: text('to_name').notNull(),
    ohms: doublePrecision('ohms').notNull(),
  },
  (table) => [
    rowKey(table),
    rowReference(table, table.boatId, boats).onDelete('cascade'),
    unique('continuity_reading').on(table.organisationId, table.boatId, table.measuredAt, table.fromName, table.toName),
    check('continuity_ohms_not_negative', sql`${table.ohms} >= 0`),
  ],
)
