import { sql } from 'drizzle-orm'
import {
  boolean,
  check,
  date,
  doublePrecision,
  foreignKey,
  index,
  pgTable,
  text,
  unique,
  uuid,
} from 'drizzle-orm/pg-core'
import { WATERS } from '../../contract/vocabulary.js'
import { boats } from './boats.js'
import { rowKey, rowReference, tenantColumns } from './columns.js'
import { organisations } from './organisations.js'

export const pontoons = pgTable('pontoons', { ...tenantColumns(), name: text('name').notNull() }, (table) => [
  rowKey(table),
  foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
  unique('pontoons_name').on(table.organisationId, table.name),
  check('pontoons_name_not_empty', sql`length(trim(${table.name})) > 0`),
])

export const berths = pgTable(
  'berths',
  {
    ...tenantColumns(),
    name: text('name').notNull(),
    pontoonId: uuid('pontoon_id'),
    water: text('water', { enum: WATERS }),
    salinityPsu: doublePrecision('salinity_psu'),
    latitude: doublePrecision('latitude'),
    longitude: doublePrecision('longitude'),
    shorePower: boolean('shore_power'),
    /** Place on the plan of the pontoons: to the right, and downwards, in whatever unit the plan is drawn. */
    planX: doublePrecision('plan_x'),
    planY: doublePrecision('plan_y'),
  },
  (table) => [
    rowKey(table),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    rowReference(table, table.pontoonId, pontoons),
    unique('berths_name').on(table.organisationId, table.name),
    check('berths_name_not_empty', sql`length(trim(${table.name})) > 0`),
    // PSS-78 is defined up to 42; a berth above that is a typing error (UNESCO Technical Papers in Marine Science 44).
    check('berths_salinity_in_range', sql`${table.salinityPsu} between 0 and 42`),
    check('berths_latitude_in_range', sql`${table.latitude} between -90 and 90`),
    check('berths_longitude_in_range', sql`${table.longitude} between -180 and 180`),
    check(
      'berths_place_on_plan',
      sql`num_nonnulls(${table.planX}, ${table.planY}) in (0, 2)
      and abs(coalesce(${table.planX}, 0)) <= 1e6 and abs(coalesce(${table.planY}, 0)) <= 1e6`,
    ),
  ],
)

/**
 * A boat at one berth over [from, to): the day of leaving belongs to the next stay. Without a berth the boat is ashore.
 * An exclusion constraint (migration 0001) keeps two stays of one boat from overlapping.
 */
export const stays = pgTable(
  'stays',
  {
    ...tenantColumns(),
    boatId: uuid('boat_id').notNull(),
    berthId: uuid('berth_id'),
    fromOn: date('from_on').notNull(),
    toOn: date('to_on'),
    shorePowerHoursPerDay: doublePrecision('shore_power_hours_per_day'),
  },
  (table) => [
    rowKey(table),
    rowReference(table, table.boatId, boats).onDelete('cascade'),
    rowReference(table, table.berthId, berths),
    unique('stays_start').on(table.organisationId, table.boatId, table.fromOn),
    index('stays_berth').on(table.organisationId, table.berthId),
    index('stays_by_day').on(table.organisationId, table.fromOn, table.id),
    check('stays_end_after_start', sql`${table.toOn} >= ${table.fromOn}`),
    check('stays_shore_power_hours', sql`${table.shorePowerHoursPerDay} between 0 and 24`),
  ],
)
