import { sql } from 'drizzle-orm'
import { check, index, integer, pgTable, text, uuid } from 'drizzle-orm/pg-core'
import { boats } from './boats.js'
import { rowKey, rowReference, tenantColumns } from './columns.js'
import { haulOuts, weighings } from './weighings.js'

/** A picture of a weighing or of a haul-out. The bytes lie in the photo store under their hash; here is what shows them. */
export const photos = pgTable(
  'photos',
  {
    ...tenantColumns(),
    boatId: uuid('boat_id').notNull(),
    weighingId: uuid('weighing_id'),
    haulOutId: uuid('haul_out_id'),
    /** Hash of the stored picture (turned upright, location stripped): the name it is stored under. */
    sha256: text('sha256').notNull(),
    mediaType: text('media_type').notNull(),
    widthPx: integer('width_px').notNull(),
    heightPx: integer('height_px').notNull(),
    bytes: integer('bytes').notNull(),
  },
  (table) => [
    rowKey(table),
    rowReference(table, table.boatId, boats).onDelete('cascade'),
    rowReference(table, table.weighingId, weighings).onDelete('cascade'),
    rowReference(table, table.haulOutId, haulOuts).onDelete('cascade'),
    index('photos_boat').on(table.organisationId, table.boatId),
    index('photos_weighing').on(table.organisationId, table.weighingId),
    index('photos_haul_out').on(table.organisationId, table.haulOutId),
    check('photos_of_one_thing', sql`num_nonnulls(${table.weighingId}, ${table.haulOutId}) = 1`),
  ],
)
