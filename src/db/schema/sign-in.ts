import { boolean, index, pgTable, text, timestamp } from 'drizzle-orm/pg-core'
import { TEMPERATURE_UNITS } from '../../contract/preferences.js'
import { MASS_UNITS } from '../../contract/vocabulary.js'
import { LANGUAGES } from '../../messages/languages.js'

/** Tables of the sign-in library. People belong to no organisation; `members` says where they may go. */
const when = (name: string) => timestamp(name, { withTimezone: true })

export const authUsers = pgTable('auth_users', {
  id: text('id').primaryKey(),
  name: text('name').notNull(),
  email: text('email').notNull().unique(),
  emailVerified: boolean('email_verified').notNull().default(false),
  image: text('image'),
  createdAt: when('created_at').notNull().defaultNow(),
  updatedAt: when('updated_at').notNull().defaultNow(),
})

export const authSessions = pgTable(
  'auth_sessions',
  {
    id: text('id').primaryKey(),
    userId: text('user_id')
      .notNull()
      .references(() => authUsers.id, { onDelete: 'cascade' }),
    token: text('token').notNull().unique(),
    expiresAt: when('expires_at').notNull(),
    ipAddress: text('ip_address'),
    userAgent: text('user_agent'),
    /** Begun by the link of a letter to an owner, which may have been forwarded. */
    byLetter: boolean('by_letter').notNull().default(false),
    createdAt: when('created_at').notNull().defaultNow(),
    updatedAt: when('updated_at').notNull().defaultNow(),
  },
  (table) => [index('auth_sessions_user').on(table.userId)],
)

export const authAccounts = pgTable(
  'auth_accounts',
  {
    id: text('id').primaryKey(),
    accountId: text('account_id').notNull(),
    providerId: text('provider_id').notNull(),
    userId: text('user_id')
      .notNull()
      .references(() => authUsers.id, { onDelete: 'cascade' }),
    accessToken: text('access_token'),
    refreshToken: text('refresh_token'),
    idToken: text('id_token'),
    accessTokenExpiresAt: when('access_token_expires_at'),
    refreshTokenExpiresAt: when('refresh_token_expires_at'),
    scope: text('scope'),
    password: text('password'),
    createdAt: when('created_at').notNull().defaultNow(),
    updatedAt: when('updated_at').notNull().defaultNow(),
  },
  (table) => [index('auth_accounts_user').on(table.userId)],
)

export const authVerifications = pgTable(
  'auth_verifications',
  {
    id: text('id').primaryKey(),
    identifier: text('identifier').notNull(),
    value: text('value').notNull(),
    expiresAt: when('expires_at').notNull(),
    createdAt: when('created_at').notNull().defaultNow(),
    updatedAt: when('updated_at').notNull().defaultNow(),
  },
  (table) => [index('auth_verifications_identifier').on(table.identifier)],
)

/** How a person likes to read, wherever they act; empty: as the browser has it. */
export const personPreferences = pgTable('person_preferences', {
  userId: text('user_id')
    .primaryKey()
    .references(() => authUsers.id, { onDelete: 'cascade' }),
  language: text('language', { enum: LANGUAGES }),
  massUnit: text('mass_unit', { enum: MASS_UNITS }),
  temperatureUnit: text('temperature_unit', { enum: TEMPERATURE_UNITS }),
  timeZone: text('time_zone'),
  updatedAt: when('updated_at').notNull().defaultNow(),
})
