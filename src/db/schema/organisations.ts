import { sql } from 'drizzle-orm'
import { check, doublePrecision, foreignKey, integer, pgTable, text, unique, uuid } from 'drizzle-orm/pg-core'
import { KEY_SCOPES } from '../../contract/access.js'
import { ROLES } from '../../contract/vocabulary.js'
import { instant, rowKey, tenantColumns } from './columns.js'
import { authUsers } from './sign-in.js'

export const organisations = pgTable(
  'organisations',
  {
    id: uuid('id').primaryKey().defaultRandom(),
    name: text('name').notNull(),
    /** Consumed fraction at which an anode is due, unless its boat or position says otherwise. */
    wastingThreshold: doublePrecision('wasting_threshold').notNull().default(0.5),
    /** Share of false ones that is accepted among the findings of one look at all intervals. Convention: 5 %. */
    falseDiscoveryRate: doublePrecision('false_discovery_rate').notNull().default(0.05),
    createdAt: instant('created_at').notNull().defaultNow(),
    version: integer('version').notNull().default(1),
  },
  (table) => [
    check('organisations_name_not_empty', sql`length(trim(${table.name})) > 0`),
    check(
      'organisations_threshold_is_a_fraction',
      sql`${table.wastingThreshold} > 0 and ${table.wastingThreshold} < 1`,
    ),
    check('organisations_false_discovery_rate_in_range', sql`${table.falseDiscoveryRate} between 0.0001 and 0.5`),
  ],
)

/** A person's role in an organisation; `userId` stays empty until the invited person signs in with that address. */
export const members = pgTable(
  'members',
  {
    ...tenantColumns(),
    email: text('email').notNull(),
    userId: text('user_id').references(() => authUsers.id, { onDelete: 'set null' }),
    role: text('role', { enum: ROLES }).notNull(),
  },
  (table) => [
    rowKey(table),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    unique('members_email').on(table.organisationId, table.email),
    check('members_email_lower_case', sql`${table.email} = lower(${table.email})`),
  ],
)

/** Keys of programs. Only hashes are kept; the prefix lets a person tell keys apart. While a program changes over, the secret before the present one opens too. */
export const apiKeys = pgTable(
  'api_keys',
  {
    ...tenantColumns(),
    name: text('name').notNull(),
    role: text('role', { enum: ROLES }).notNull(),
    /** What of its role's permissions it has. */
    scope: text('scope', { enum: KEY_SCOPES }).notNull().default('all'),
    prefix: text('prefix').notNull(),
    secretSha256: text('secret_sha256').notNull(),
    secretMadeAt: instant('secret_made_at').notNull().defaultNow(),
    previousPrefix: text('previous_prefix'),
    previousSecretSha256: text('previous_secret_sha256'),
    previousSecretUntil: instant('previous_secret_until'),
    previousUsedAt: instant('previous_used_at'),
    expiresAt: instant('expires_at'),
    lastUsedAt: instant('last_used_at'),
    revokedAt: instant('revoked_at'),
  },
  (table) => [
    rowKey(table),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    unique('api_keys_secret').on(table.secretSha256),
    unique('api_keys_previous_secret').on(table.previousSecretSha256),
    check(
      'api_keys_previous_secret_whole',
      sql`(${table.previousSecretSha256} is null) = (${table.previousSecretUntil} is null) and (${table.previousSecretSha256} is null) = (${table.previousPrefix} is null)`,
    ),
    check('api_keys_not_for_owners', sql`${table.role} <> 'owner'`),
  ],
)

/** One-time links that let the first person in: who holds the token may make the organisation. */
export const setUpTokens = pgTable('set_up_tokens', {
  tokenSha256: text('token_sha256').primaryKey(),
  createdAt: instant('created_at').notNull().defaultNow(),
  usedAt: instant('used_at'),
})
