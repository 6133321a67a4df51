import { sql } from 'drizzle-orm'
import { type AnyPgColumn, foreignKey, integer, primaryKey, timestamp, uuid } from 'drizzle-orm/pg-core'

export const instant = (name: string) => timestamp(name, { withTimezone: true, mode: 'string' })

/**
 * What every row of an organisation has. The organisation comes first in each primary key and each foreign key, so that
 * no row can point at another organisation's row, and so that a distributed PostgreSQL could shard by it.
 * `version` counts changes (a trigger raises it) and is the ETag.
 */
export const tenantColumns = () => ({
  organisationId: uuid('organisation_id').notNull(),
  id: uuid('id').notNull().default(sql`gen_random_uuid()`),
  createdAt: instant('created_at').notNull().defaultNow(),
  version: integer('version').notNull().default(1),
})

interface TenantTable {
  readonly organisationId: AnyPgColumn
  readonly id: AnyPgColumn
}

/** The primary key of a table with tenant columns. */
export const rowKey = ({ organisationId, id }: TenantTable) => primaryKey({ columns: [organisationId, id] })

/** A key to a row of the same organisation. */
export const rowReference = (
  { organisationId }: Pick<TenantTable, 'organisationId'>,
  column: AnyPgColumn,
  target: TenantTable,
) => foreignKey({ columns: [organisationId, column], foreignColumns: [target.organisationId, target.id] })
