import { sql } from 'drizzle-orm'
import {
  boolean,
  check,
  doublePrecision,
  foreignKey,
  index,
  integer,
  pgTable,
  text,
  unique,
  uuid,
} from 'drizzle-orm/pg-core'
import { HULLS, YES_NO_UNKNOWN } from '../../contract/vocabulary.js'
import { rowKey, rowReference, tenantColumns } from './columns.js'
import { organisations } from './organisations.js'

export const owners = pgTable('owners', { ...tenantColumns(), name: text('name'), email: text('email') }, (table) => [
  rowKey(table),
  foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
  unique('owners_person').on(table.organisationId, table.name, table.email).nullsNotDistinct(),
  index('owners_email').on(table.organisationId, sql`lower(${table.email})`),
  check('owners_name_or_email', sql`${table.name} is not null or ${table.email} is not null`),
])

export const boats = pgTable(
  'boats',
  {
    ...tenantColumns(),
    name: text('name').notNull(),
    ownerId: uuid('owner_id'),
    hull: text('hull', { enum: HULLS }),
    galvanicIsolator: text('galvanic_isolator', { enum: YES_NO_UNKNOWN }),
    launchedYear: integer('launched_year'),
    wastingThreshold: doublePrecision('wasting_threshold'),
  },
  (table) => [
    rowKey(table),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    rowReference(table, table.ownerId, owners),
    unique('boats_name').on(table.organisationId, table.name),
    index('boats_owner').on(table.organisationId, table.ownerId),
    // Lists are read a page at a time in these orders, as those of haul-outs, weighings and stays in that of their days.
    index('boats_by_name').on(table.organisationId, sql`${table.name} collate "C"`, table.id),
    index('boats_by_creation').on(table.organisationId, table.createdAt, table.id),
    // Found by any part of their name.
    index('boats_by_part').using('gist', table.organisationId, sql`${table.name} gist_trgm_ops`),
    check('boats_name_not_empty', sql`length(trim(${table.name})) > 0`),
    check('boats_threshold_is_a_fraction', sql`${table.wastingThreshold} > 0 and ${table.wastingThreshold} < 1`),
    check('boats_launched_year_plausible', sql`${table.launchedYear} between 1800 and 2200`),
  ],
)

/** A piece of underwater metal: propeller, shaft, through-hull … */
export const fittings = pgTable(
  'fittings',
  {
    ...tenantColumns(),
    boatId: uuid('boat_id').notNull(),
    name: text('name').notNull(),
    /** A key of the galvanic series. */
    metal: text('metal'),
    areaCm2: doublePrecision('area_cm2'),
    coated: boolean('coated'),
    bonded: boolean('bonded'),
  },
  (table) => [
    rowKey(table),
    rowReference(table, table.boatId, boats).onDelete('cascade'),
    unique('fittings_name').on(table.organisationId, table.boatId, table.name),
    check('fittings_area_not_negative', sql`${table.areaCm2} >= 0`),
  ],
)
