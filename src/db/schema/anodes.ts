import { sql } from 'drizzle-orm'
import {
  boolean,
  check,
  date,
  doublePrecision,
  foreignKey,
  index,
  integer,
  pgTable,
  text,
  unique,
  uuid,
} from 'drizzle-orm/pg-core'
import { ALLOYS, POSITION_KINDS } from '../../contract/vocabulary.js'
import { boats } from './boats.js'
import { rowKey, rowReference, tenantColumns } from './columns.js'

/**
 * A place on one boat that takes one anode at a time. `label` is what people call it; two places may share a label
 * (two hull anodes), told apart by `slot`.
 */
export const positions = pgTable(
  'positions',
  {
    ...tenantColumns(),
    boatId: uuid('boat_id').notNull(),
    label: text('label').notNull(),
    slot: integer('slot').notNull().default(1),
    kind: text('kind', { enum: POSITION_KINDS }).notNull(),
    wastingThreshold: doublePrecision('wasting_threshold'),
  },
  (table) => [
    rowKey(table),
    rowReference(table, table.boatId, boats).onDelete('cascade'),
    unique('positions_place').on(table.organisationId, table.boatId, table.label, table.slot),
    unique('positions_boat').on(table.organisationId, table.boatId, table.id),
    check('positions_threshold_is_a_fraction', sql`${table.wastingThreshold} > 0 and ${table.wastingThreshold} < 1`),
    check('positions_slot_from_one', sql`${table.slot} >= 1`),
  ],
)

/**
 * One sacrificial piece over [fitted, removed). An exclusion constraint (migration 0001) keeps two from one position
 * at a time; the key to `positions` runs through the boat, so an anode cannot sit on another boat's position.
 */
export const anodes = pgTable(
  'anodes',
  {
    ...tenantColumns(),
    boatId: uuid('boat_id').notNull(),
    positionId: uuid('position_id').notNull(),
    name: text('name').notNull(),
    alloy: text('alloy', { enum: ALLOYS }),
    shape: text('shape'),
    fittedOn: date('fitted_on'),
    removedOn: date('removed_on'),
    /** What the scale showed when it was fitted, insert and fasteners included. */
    grossMassG: doublePrecision('gross_mass_g'),
    /** Steel or brass insert and fasteners weighed along; never consumed. */
    coreMassG: doublePrecision('core_mass_g'),
    lengthMm: doublePrecision('length_mm'),
    widthMm: doublePrecision('width_mm'),
    heightMm: doublePrecision('height_mm'),
    bonded: boolean('bonded'),
  },
  (table) => [
    rowKey(table),
    foreignKey({
      columns: [table.organisationId, table.boatId, table.positionId],
      foreignColumns: [positions.organisationId, positions.boatId, positions.id],
    }).onDelete('cascade'),
    unique('anodes_name').on(table.organisationId, table.boatId, table.name),
    index('anodes_position').on(table.organisationId, table.positionId),
    check('anodes_name_not_empty', sql`length(trim(${table.name})) > 0`),
    check('anodes_removed_after_fitted', sql`${table.removedOn} >= ${table.fittedOn}`),
    check('anodes_mass_positive', sql`${table.grossMassG} > 0`),
    check('anodes_core_not_negative', sql`${table.coreMassG} >= 0`),
    check('anodes_core_below_gross', sql`${table.coreMassG} < ${table.grossMassG}`),
    check('anodes_dimensions_positive', sql`${table.lengthMm} > 0 and ${table.widthMm} > 0 and ${table.heightMm} > 0`),
  ],
)
