import { sql } from 'drizzle-orm'
import { boolean, check, foreignKey, pgTable, text, unique, uniqueIndex } from 'drizzle-orm/pg-core'
import { rowKey, tenantColumns } from './columns.js'
import { organisations } from './organisations.js'

/** How somebody likes to look at the fleet. No forecast rests on it: it is not in the audit trail. */
export const savedViews = pgTable(
  'saved_views',
  {
    ...tenantColumns(),
    /** Whose it is, as the audit trail names actors: "person:ada@example.org", "key:Office". */
    person: text('person').notNull(),
    name: text('name').notNull(),
    /** The query string of the page. */
    query: text('query').notNull(),
    isDefault: boolean('is_default').notNull().default(false),
  },
  (table) => [
    rowKey(table),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    unique('saved_views_name').on(table.organisationId, table.person, table.name),
    uniqueIndex('saved_views_default').on(table.organisationId, table.person).where(sql`${table.isDefault}`),
    check('saved_views_name_not_empty', sql`length(trim(${table.name})) > 0`),
  ],
)
