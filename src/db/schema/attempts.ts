import { index, integer, pgTable, text } from 'drizzle-orm/pg-core'
import { instant } from './columns.js'

/**
 * How often something was tried that is worth guessing or costs a letter, over all processes of the service. Unlogged (migrations/0016):
 * after a crash of the database it is empty, which lets somebody try a few times more.
 */
export const attempts = pgTable(
  'attempts',
  {
    /** SHA-256 of what is tried and by whom: neither addresses of machines nor of people are kept here. */
    key: text('key').primaryKey(),
    count: integer('count').notNull(),
    until: instant('until').notNull(),
  },
  (table) => [index('attempts_until').on(table.until)],
)
