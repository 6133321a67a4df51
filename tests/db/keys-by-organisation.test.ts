import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { createTestDatabase, type TestDatabase } from '../database/test-database.js'

/** Tables that belong to no organisation, and why: docs/scale.md says where they would lie in a distributed database. */
const OF_NOBODY: Readonly<Record<string, string>> = {
  organisations: 'each row is one; its id is what others are distributed by',
  auth_users: 'a person may be in several organisations',
  auth_sessions: "a person's",
  auth_accounts: "a person's",
  auth_verifications: "a person's links",
  passkeys: "a person's",
  passkey_challenges: "a person's",
  person_preferences: "a person's",
  push_subscriptions: "a person's devices",
  service_keys: "the service's own",
  attempts: 'how often somebody asked, known or not',
  set_up_tokens: 'before there is an organisation',
}

/** Indexes of organisations' tables that begin with something else: none is on the way of a request for an organisation's data. */
const ACROSS: Readonly<Record<string, string>> = {
  api_keys_secret: 'finds the organisation of who asks: a secret is all there is',
  api_keys_previous_secret: 'the same by the secret before, while both open',
  calendar_feeds_token: 'finds the organisation of a link',
  notices_due: 'workers look for what is due in all organisations',
  webhook_deliveries_due: 'the same of webhook messages',
  webhook_events_age: 'old ones are forgotten, of all organisations at once',
  idempotency_keys_age: 'the same of keys of repetition',
}

/** Foreign keys of organisations' tables that name no organisation. */
const TO_NOBODY: Readonly<Record<string, string>> = {
  members_user_id_auth_users_id_fk: 'who a member is, once they have signed in',
}

interface Found {
  readonly table: string
  readonly name: string
  readonly columns: readonly string[]
}

let database: TestDatabase
beforeAll(async () => {
  database = await createTestDatabase()
})
afterAll(() => database.close())

async function rows<Row>(query: string): Promise<Row[]> {
  return ((await database.db.execute(sql.raw(query))) as unknown as { rows: Row[] }).rows
}

const namesOf = (columns: string, table: string) => `array(select coalesce(attname::text, '(expression)')
  from unnest(${columns}) with ordinality keys (number, place)
  left join pg_attribute on attrelid = ${table} and attnum = number and number > 0 order by place)`

const indexes = () =>
  rows<Found>(`select indrelid::regclass::text as table, c.relname as name, ${namesOf('indkey::int2[]', 'indrelid')} as columns
    from pg_index join pg_class c on c.oid = indexrelid where c.relnamespace = 'public'::regnamespace`)

const foreignKeys = () =>
  rows<Found & { readonly target: string; readonly targets: readonly string[] }>(`
    select conrelid::regclass::text as table, conname as name, ${namesOf('conkey', 'conrelid')} as columns,
      confrelid::regclass::text as target, ${namesOf('confkey', 'confrelid')} as targets
    from pg_constraint where contype = 'f' and connamespace = 'public'::regnamespace`)

describe('in the catalogue the organisation comes first', () => {
  it('in every table, but those of nobody', async () => {
    const found = await rows<{ table: string }>(`select c.relname as table from pg_class c
      where c.relkind in ('r', 'p') and c.relnamespace = 'public'::regnamespace and not exists
        (select from pg_attribute where attrelid = c.oid and attname = 'organisation_id' and attnotnull)`)
    expect(found.map(({ table }) => table).sort()).toEqual(Object.keys(OF_NOBODY).sort())
  })

  it('in every primary key, unique key, exclusion and index', async () => {
    const found = (await indexes()).filter(({ table }) => !(table in OF_NOBODY))
    expect(found.length).toBeGreaterThan(80)
    const otherwise = found.filter(({ columns }) => columns[0] !== 'organisation_id')
    expect(otherwise.map(({ name }) => name).sort()).toEqual(Object.keys(ACROSS).sort())
  })

  it('in every foreign key, on both its ends', async () => {
    const found = (await foreignKeys()).filter(({ table }) => !(table in OF_NOBODY))
    expect(found.length).toBeGreaterThan(40)
    const otherwise = found.filter(
      ({ columns, target, targets }) =>
        columns[0] !== 'organisation_id' || targets[0] !== (target === 'organisations' ? 'id' : 'organisation_id'),
    )
    expect(otherwise.map(({ name }) => name).sort()).toEqual(Object.keys(TO_NOBODY).sort())
  })

  it('would be missed where it did not', async () => {
    await database.db.execute(
      sql`create table made_up (id uuid primary key, organisation_id uuid not null, boat_id uuid)`,
    )
    const [key] = (await indexes()).filter(({ table }) => table === 'made_up')
    await database.db.execute(sql`drop table made_up`)
    expect(key).toMatchObject({ name: 'made_up_pkey', columns: ['id'] })
  })
})
