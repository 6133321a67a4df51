import { sql } from 'drizzle-orm'
import { boolean, check, date, doublePrecision, index, pgTable, text, unique, uuid } from 'drizzle-orm/pg-core'
import { SUBMERGED_IN, WEIGHING_METHODS } from '../../contract/vocabulary.js'
import { anodes } from './anodes.js'
import { boats } from './boats.js'
import { rowKey, rowReference, tenantColumns } from './columns.js'

/** A lift: past, or planned. `planned` says that it was in the calendar, not that it lies ahead. */
export const haulOuts = pgTable(
  'haul_outs',
  {
    ...tenantColumns(),
    boatId: uuid('boat_id').notNull(),
    hauledOn: date('hauled_on').notNull(),
    relaunchedOn: date('relaunched_on'),
    planned: boolean('planned'),
    note: text('note'),
  },
  (table) => [
    rowKey(table),
    rowReference(table, table.boatId, boats).onDelete('cascade'),
    unique('haul_outs_day').on(table.organisationId, table.boatId, table.hauledOn),
    index('haul_outs_by_day').on(table.organisationId, table.hauledOn, table.id),
    check('haul_outs_relaunched_after', sql`${table.relaunchedOn} >= ${table.hauledOn}`),
  ],
)

/**
 * A dated mass of one anode: on a scale, from calipers, or judged by eye. Triggers (migration 0001) keep it within the
 * anode's life and above its core mass, and let it change only as a correction with a reason.
 */
export const weighings = pgTable(
  'weighings',
  {
    ...tenantColumns(),
    anodeId: uuid('anode_id').notNull(),
    haulOutId: uuid('haul_out_id'),
    weighedOn: date('weighed_on').notNull(),
    method: text('method', { enum: WEIGHING_METHODS }).notNull().default('scale'),
    /** Gross mass as the scale shows it, core included. */
    massG: doublePrecision('mass_g'),
    resolutionG: doublePrecision('resolution_g'),
    cleaned: boolean('cleaned'),
    submergedMassG: doublePrecision('submerged_mass_g'),
    submergedIn: text('submerged_in', { enum: SUBMERGED_IN }),
    wastedPercent: doublePrecision('wasted_percent'),
    /** Dimensions left, by calipers. */
    lengthMm: doublePrecision('length_mm'),
    widthMm: doublePrecision('width_mm'),
    heightMm: doublePrecision('height_mm'),
    conditions: text('conditions').array().notNull().default(sql`'{}'`),
    note: text('note'),
  },
  (table) => [
    rowKey(table),
    rowReference(table, table.anodeId, anodes).onDelete('cascade'),
    // Emptied when the haul-out goes (migration 0004; the schema's language cannot say "this column alone").
    rowReference(table, table.haulOutId, haulOuts),
    unique('weighings_anode_day').on(table.organisationId, table.anodeId, table.weighedOn),
    index('weighings_haul_out').on(table.organisationId, table.haulOutId),
    index('weighings_by_day').on(table.organisationId, table.weighedOn, table.id),
    check('weighings_mass_positive', sql`${table.massG} > 0`),
    check('weighings_resolution_positive', sql`${table.resolutionG} > 0`),
    check(
      'weighings_submerged_below_dry',
      sql`${table.submergedMassG} >= 0 and ${table.submergedMassG} < ${table.massG}`,
    ),
    check('weighings_wasted_is_percent', sql`${table.wastedPercent} between 0 and 100`),
    check(
      'weighings_says_something',
      sql`case ${table.method} when 'scale' then ${table.massG} is not null
        when 'visual' then ${table.wastedPercent} is not null
        else ${table.lengthMm} is not null or ${table.widthMm} is not null or ${table.heightMm} is not null end`,
    ),
    check(
      'weighings_dimensions_positive',
      sql`${table.lengthMm} > 0 and ${table.widthMm} > 0 and ${table.heightMm} > 0`,
    ),
  ],
)
