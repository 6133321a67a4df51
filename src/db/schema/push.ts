import { index, jsonb, pgTable, text, uuid } from 'drizzle-orm/pg-core'
import { instant } from './columns.js'
import { authUsers } from './sign-in.js'

/** Browsers that a person switched notifications on in. People belong to no organisation, and neither do these. */
export const pushSubscriptions = pgTable(
  'push_subscriptions',
  {
    id: uuid('id').primaryKey().defaultRandom(),
    userId: text('user_id')
      .notNull()
      .references(() => authUsers.id, { onDelete: 'cascade' }),
    /** In which it was switched on; it may be over by now. Empty where that was not noted yet. */
    sessionId: text('session_id'),
    endpoint: text('endpoint').notNull().unique(),
    p256dh: text('p256dh').notNull(),
    auth: text('auth').notNull(),
    createdAt: instant('created_at').notNull().defaultNow(),
  },
  (table) => [index('push_subscriptions_user').on(table.userId)],
)

/** Keys that the service made for itself, once for all its processes. */
export const serviceKeys = pgTable('service_keys', {
  name: text('name').primaryKey(),
  value: jsonb('value').notNull(),
  createdAt: instant('created_at').notNull().defaultNow(),
})
