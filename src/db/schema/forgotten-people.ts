import { sql } from 'drizzle-orm'
import { check, foreignKey, pgTable, text, unique } from 'drizzle-orm/pg-core'
import { rowKey, tenantColumns } from './columns.js'
import { organisations } from './organisations.js'

/** Whose data an organisation has removed: enough to remove them again from an older backup, and not who it was. */
export const forgottenPeople = pgTable(
  'forgotten_people',
  {
    ...tenantColumns(),
    /** SHA-256 of the address in small letters, in hexadecimal digits: whoever knows an address can tell whether it was theirs. */
    addressSha256: text('address_sha256').notNull(),
    /** Who stands in the record in their place. */
    alias: text('alias').notNull(),
  },
  (table) => [
    rowKey(table),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    unique('forgotten_people_alias').on(table.organisationId, table.alias),
    check('forgotten_people_sha256', sql`${table.addressSha256} ~ '^[0-9a-f]{64}$'`),
  ],
)
