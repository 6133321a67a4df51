import { bigint, index, pgTable, text, uuid } from 'drizzle-orm/pg-core'
import { instant } from './columns.js'
import { authUsers } from './sign-in.js'

/** Keys of WebAuthn that people sign in with: the public half, the private one never leaves their device. */
export const passkeys = pgTable(
  'passkeys',
  {
    /** The credential's id, base64url. */
    id: text('id').primaryKey(),
    userId: text('user_id')
      .notNull()
      .references(() => authUsers.id, { onDelete: 'cascade' }),
    /** COSE key (RFC 9052, 7), base64url. */
    publicKey: text('public_key').notNull(),
    /** How often it was used, where the device counts; it may not run backwards. */
    counter: bigint('counter', { mode: 'number' }).notNull(),
    transports: text('transports').array().notNull(),
    browser: text('browser'),
    system: text('system'),
    createdAt: instant('created_at').notNull().defaultNow(),
    lastUsedAt: instant('last_used_at'),
  },
  (table) => [index('passkeys_user').on(table.userId)],
)

/** What a device was asked to sign, until it answers or the time is over: each is good for one answer. */
export const passkeyChallenges = pgTable(
  'passkey_challenges',
  {
    id: uuid('id').primaryKey().defaultRandom(),
    challenge: text('challenge').notNull(),
    /** Who adds a key; nobody yet where somebody signs in. */
    userId: text('user_id').references(() => authUsers.id, { onDelete: 'cascade' }),
    expiresAt: instant('expires_at').notNull(),
  },
  (table) => [index('passkey_challenges_expiry').on(table.expiresAt)],
)
