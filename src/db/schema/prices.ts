import { sql } from 'drizzle-orm'
import {
  check,
  date,
  doublePrecision,
  foreignKey,
  integer,
  pgTable,
  primaryKey,
  text,
  unique,
  uuid,
} from 'drizzle-orm/pg-core'
import { ALLOYS } from '../../contract/vocabulary.js'
import { organisations } from './organisations.js'

/** What an organisation's lifts and parts cost: one list, whose version is its ETag. */
export const priceLists = pgTable(
  'price_lists',
  {
    organisationId: uuid('organisation_id').notNull(),
    currency: text('currency').notNull(),
    version: integer('version').notNull().default(1),
  },
  (table) => [
    primaryKey({ columns: [table.organisationId] }),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    check('price_lists_currency_code', sql`${table.currency} ~ '^[A-Z]{3}$'`),
  ],
)

/** A price from a day on, of a lift or of a part; what is empty of a part holds for any. */
export const prices = pgTable(
  'prices',
  {
    organisationId: uuid('organisation_id').notNull(),
    /** Its place in the list. */
    place: integer('place').notNull(),
    kind: text('kind', { enum: ['lift', 'part'] }).notNull(),
    alloy: text('alloy', { enum: ALLOYS }),
    shape: text('shape'),
    massG: doublePrecision('mass_g'),
    since: date('since').notNull(),
    /** In hundredths of the currency. */
    cents: integer('cents').notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.organisationId, table.place] }),
    foreignKey({ columns: [table.organisationId], foreignColumns: [priceLists.organisationId] }).onDelete('cascade'),
    unique('prices_thing')
      .on(table.organisationId, table.kind, table.alloy, table.shape, table.massG, table.since)
      .nullsNotDistinct(),
    check('prices_not_negative', sql`${table.cents} >= 0`),
    check('prices_mass_positive', sql`${table.massG} > 0`),
    check(
      'prices_lift_is_no_part',
      sql`${table.kind} = 'part' or (${table.alloy} is null and ${table.shape} is null and ${table.massG} is null)`,
    ),
  ],
)
