import { sql } from 'drizzle-orm'
import {
  check,
  doublePrecision,
  foreignKey,
  integer,
  pgTable,
  primaryKey,
  text,
  unique,
  uuid,
} from 'drizzle-orm/pg-core'
import { BERTH_SIDES } from '../../contract/vocabulary.js'
import { berths, pontoons } from './berths.js'
import { rowReference } from './columns.js'

/** A pontoon as a line on the plan of the harbour, from its shore end outwards. */
export const drawnPontoons = pgTable(
  'drawn_pontoons',
  {
    organisationId: uuid('organisation_id').notNull(),
    pontoonId: uuid('pontoon_id').notNull(),
    /** To the right and downwards on the plan [m]. */
    shoreXM: doublePrecision('shore_x_m').notNull(),
    shoreYM: doublePrecision('shore_y_m').notNull(),
    /** 0 is up on the plan, 90 to the right [°]. */
    headingDegrees: doublePrecision('heading_degrees').notNull(),
    /** Of most of its berths [m]; empty: not known. */
    berthLengthM: doublePrecision('berth_length_m'),
    berthWidthM: doublePrecision('berth_width_m'),
  },
  (table) => [
    primaryKey({ columns: [table.organisationId, table.pontoonId] }),
    rowReference(table, table.pontoonId, pontoons).onDelete('cascade'),
    check('drawn_pontoons_on_the_plan', sql`abs(${table.shoreXM}) <= 10000 and abs(${table.shoreYM}) <= 10000`),
    check('drawn_pontoons_heading', sql`${table.headingDegrees} >= 0 and ${table.headingDegrees} < 360`),
    check('drawn_pontoons_berths_positive', sql`${table.berthLengthM} > 0 and ${table.berthWidthM} > 0`),
  ],
)

/**
 * A berth's place on a side of a pontoon. It holds as long as the berth is on that pontoon: files may move it to another one, on which nobody
 * has drawn it.
 */
export const drawnBerths = pgTable(
  'drawn_berths',
  {
    organisationId: uuid('organisation_id').notNull(),
    berthId: uuid('berth_id').notNull(),
    pontoonId: uuid('pontoon_id').notNull(),
    side: text('side', { enum: BERTH_SIDES }).notNull(),
    /** From 1 at the shore outwards. */
    place: integer('place').notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.organisationId, table.berthId] }),
    rowReference(table, table.berthId, berths).onDelete('cascade'),
    foreignKey({
      columns: [table.organisationId, table.pontoonId],
      foreignColumns: [drawnPontoons.organisationId, drawnPontoons.pontoonId],
    }).onDelete('cascade'),
    unique('drawn_berths_place').on(table.organisationId, table.pontoonId, table.side, table.place),
    check('drawn_berths_place_from_one', sql`${table.place} >= 1`),
  ],
)
