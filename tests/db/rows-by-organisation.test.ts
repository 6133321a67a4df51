import { and, eq, sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Db } from '../../src/db/client.js'
import { inOrganisation } from '../../src/db/in-organisation.js'
import { DATABASE_ROLES, withRole } from '../../src/db/roles.js'
import { anodes, boats, haulOuts, owners, positions, weighings } from '../../src/db/schema/index.js'
import type { Actor } from '../../src/services/actor.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../database/test-database.js'

/** Schemas that hold no rows of organisations, and why nothing there is held apart by row. */
const OTHER_SCHEMAS: Record<string, string> = {
  drizzle: 'which migrations ran; the service may not look there',
  jobs: "the queue's own: ids of jobs, which the service may add and not read",
}

interface TableRow {
  readonly schema: string
  readonly table: string
  readonly forced: boolean
  readonly policies: readonly string[]
  readonly hasOrganisation: boolean
}

let database: TestDatabase
let yard: Actor
let foreign: Actor

beforeAll(async () => {
  database = await createTestDatabase()
  yard = await createOrganisation(database.db, 'administrator', 'Yard')
  foreign = await createOrganisation(database.db, 'administrator', 'Foreign yard')
  for (const actor of [yard, foreign]) await fill(actor)
})

afterAll(() => database.close())

/** Two owners with a boat each, down to a weighing. */
async function fill({ organisationId }: Actor): Promise<void> {
  for (const name of ['ada', 'bea']) {
    const [owner] = await database.db
      .insert(owners)
      .values({ organisationId, name, email: `${name}@example.org` })
      .returning()
    const [boat] = await database.db
      .insert(boats)
      .values({ organisationId, name: `Boat of ${name}`, ownerId: owner!.id })
      .returning()
    const boatId = boat!.id
    const [position] = await database.db
      .insert(positions)
      .values({ organisationId, boatId, label: 'shaft', kind: 'shaft' })
      .returning()
    const [anode] = await database.db
      .insert(anodes)
      .values({
        organisationId,
        boatId,
        positionId: position!.id,
        name: 'shaft 1',
        fittedOn: '2030-04-01',
        grossMassG: 900,
      })
      .returning()
    await database.db
      .insert(weighings)
      .values({ organisationId, anodeId: anode!.id, weighedOn: '2031-04-01', massG: 500 })
    await database.db.insert(haulOuts).values({ organisationId, boatId, hauledOn: '2031-04-01' })
  }
}

async function rows<Row>(query: string): Promise<Row[]> {
  return ((await database.db.execute(sql.raw(query))) as unknown as { rows: Row[] }).rows
}

const tablesOfCatalogue = () =>
  rows<TableRow>(`
    select n.nspname as schema, c.relname as table, c.relrowsecurity and c.relforcerowsecurity as forced,
      array(select polname::text from pg_policy where polrelid = c.oid) as policies,
      exists (select from pg_attribute where attrelid = c.oid and attname = 'organisation_id') as "hasOrganisation"
    from pg_class c join pg_namespace n on n.oid = c.relnamespace
    where c.relkind in ('r', 'p') and n.nspname not in ('pg_catalog', 'information_schema') and n.nspname !~ '^pg_(toast|temp)'`)

describe('every table of the catalogue', () => {
  it('has forced row-level security and a policy, or lies in a schema that is named here', async () => {
    const found = await tablesOfCatalogue()
    expect(found.length).toBeGreaterThan(40)
    const open = found.filter(
      ({ schema, forced, policies }) => !(schema in OTHER_SCHEMAS) && !(forced && policies.length > 0),
    )
    expect(open.map(({ schema, table }) => `${schema}.${table}`)).toEqual([])
  })

  it('that has an organisation is held to the one that acts', async () => {
    const found = (await tablesOfCatalogue()).filter(({ hasOrganisation }) => hasOrganisation)
    expect(found.length).toBeGreaterThan(30)
    const open = found.filter(({ policies }) => !policies.includes('of_the_organisation'))
    expect(open.map(({ table }) => table)).toEqual([])
  })

  it('would be found wanting if one were new', async () => {
    await database.db.execute(sql`create table made_up (organisation_id uuid)`)
    const [made] = (await tablesOfCatalogue()).filter(({ table }) => table === 'made_up')
    await database.db.execute(sql`drop table made_up`)
    expect(made).toMatchObject({ forced: false, policies: [], hasOrganisation: true })
  })

  it('is owned by a role that is not the service, and no role of it passes by', async () => {
    const found = await rows<{ rolname: string }>(`
      select rolname from pg_roles where rolname in ('anode_ledger_service', 'anode_ledger_across')
        and not rolsuper and not rolbypassrls and not rolcreaterole
        and not exists (select from pg_class where relowner = pg_roles.oid)
        and not exists (select from pg_auth_members where member = pg_roles.oid)`)
    expect(found).toHaveLength(2)
  })
})

/** Every table that the service may read, asked without any condition. */
async function readEverything(tx: Db): Promise<Record<string, number>> {
  const { rows: readable } = (await tx.execute(sql`
    select relname as name from pg_class where relnamespace = 'public'::regnamespace and relkind in ('r', 'p')
      and has_table_privilege(oid, 'select')`)) as unknown as { rows: { name: string }[] }
  const counts: Record<string, number> = {}
  for (const { name } of readable) counts[name] = await count(tx, name)
  return counts
}

async function count(tx: Db, table: string): Promise<number> {
  const result = await tx.execute(sql`select count(*) as count from ${sql.identifier(table)}`)
  return Number((result as unknown as { rows: { count: number }[] }).rows[0]!.count)
}

const withRows = (counts: Record<string, number>) => Object.fromEntries(Object.entries(counts).filter(([, n]) => n > 0))

const organisationsOf = async (tx: Db, table: string) => {
  const result = await tx.execute(sql`select distinct organisation_id as id from ${sql.identifier(table)}`)
  return (result as unknown as { rows: { id: string }[] }).rows.map(({ id }) => id)
}

describe("raw SQL as the service's role", () => {
  it('reads nothing at all where no organisation was named', async () => {
    const counts = await readEverything(database.service)
    expect(Object.keys(counts).length).toBeGreaterThan(30)
    expect(withRows(counts)).toEqual({})
  })

  it('reads the rows of the organisation that acts and nothing foreign, without a WHERE', async () => {
    await inOrganisation(database.service, yard, async (tx) => {
      expect(withRows(await readEverything(tx))).toMatchObject({
        organisations: 1,
        owners: 2,
        boats: 2,
        anodes: 2,
        weighings: 2,
      })
      for (const table of ['owners', 'boats', 'positions', 'anodes', 'weighings', 'haul_outs', 'audit_entries'])
        expect(await organisationsOf(tx, table), table).toEqual([yard.organisationId])
    })
  })

  it('changes and removes nothing foreign, and writes nothing in a foreign name', async () => {
    const written = await inOrganisation(database.service, yard, async (tx) => {
      await tx.execute(sql`update boats set hull = 'steel'`)
      return tx.execute(sql`delete from haul_outs`)
    })
    expect(written).toBeDefined()
    const left = await rows<{
      hull: string | null
      lifts: number
    }>(`select b.hull, count(h.id)::int as lifts from boats b
      left join haul_outs h on h.organisation_id = b.organisation_id and h.boat_id = b.id
      where b.organisation_id = '${foreign.organisationId}' group by b.id, b.hull`)
    expect(left).toEqual([
      { hull: null, lifts: 1 },
      { hull: null, lifts: 1 },
    ])
    const inForeignName = inOrganisation(database.service, yard, (tx) =>
      tx.insert(boats).values({ organisationId: foreign.organisationId, name: 'Smuggled' }),
    )
    await expect(inForeignName).rejects.toMatchObject({
      cause: { message: expect.stringContaining('row-level security') },
    })
  })

  it('leaves nothing set for the next one on the connection, whether the work was done or broke off', async () => {
    const broken = inOrganisation(database.service, { ...foreign, ownerEmail: 'ada@example.org' }, async () => {
      throw new Error('broken off')
    })
    await expect(broken).rejects.toThrow('broken off')
    await inOrganisation(database.service, foreign, (tx) => count(tx, 'boats'))
    const each = Array.from({ length: 20 }, () => count(database.service, 'boats'))
    expect(new Set(await Promise.all(each))).toEqual(new Set([0]))
  })

  it('keeps many at once apart', async () => {
    const seen = await Promise.all(
      Array.from({ length: 40 }, (_, index) => {
        const actor = index % 2 === 0 ? yard : foreign
        return inOrganisation(
          database.service,
          actor,
          async (tx) => (await organisationsOf(tx, 'boats'))[0] === actor.organisationId,
        )
      }),
    )
    expect(new Set(seen)).toEqual(new Set([true]))
  })

  it('cannot switch the rules off, change tables, or read sessions and keys of the service', async () => {
    const tries = [
      sql`alter table boats disable row level security`,
      sql`create policy open on boats using (true)`,
      sql`select * from auth_sessions`,
      sql`select * from service_keys`,
      sql`select * from set_up_tokens`,
      sql`delete from audit_entries`,
    ]
    for (const statement of tries)
      await expect(inOrganisation(database.service, yard, (tx) => tx.execute(statement))).rejects.toMatchObject({
        cause: { code: '42501' },
      })
  })
})

describe('raw SQL for an owner', () => {
  const asOwner = <T>(work: (tx: Db) => Promise<T>) =>
    inOrganisation(database.service, { ...yard, ownerEmail: 'Ada@Example.org' }, work)

  it('reads what hangs on their boats and nothing else', async () => {
    await asOwner(async (tx) => {
      const counts = await readEverything(tx)
      expect(counts).toMatchObject({
        owners: 1,
        boats: 1,
        positions: 1,
        anodes: 1,
        weighings: 1,
        api_keys: 0,
        webhooks: 0,
      })
      expect(await tx.select({ name: boats.name }).from(boats)).toEqual([{ name: 'Boat of ada' }])
      const trail = await tx.execute(sql`select distinct table_name as name from audit_entries`)
      expect((trail as unknown as { rows: unknown[] }).rows).toEqual([{ name: 'weighings' }])
    })
  })

  it("writes nothing that hangs on another's boat", async () => {
    const [other] = await database.db
      .select()
      .from(boats)
      .where(and(eq(boats.organisationId, yard.organisationId), eq(boats.name, 'Boat of bea')))
    const wrong = asOwner((tx) =>
      tx.insert(haulOuts).values({ organisationId: yard.organisationId, boatId: other!.id, hauledOn: '2032-01-01' }),
    )
    await expect(wrong).rejects.toMatchObject({ cause: { message: expect.stringContaining('row-level security') } })
  })
})

describe('work across organisations', () => {
  it('sees who asks and what is due, and no boat, anode or weighing', async () => {
    const counts = await readEverything(database.across)
    expect(counts).toMatchObject({ organisations: 2, owners: 4 })
    for (const table of ['boats', 'anodes', 'weighings', 'findings', 'forecasts', 'photos', 'audit_entries'])
      await expect(count(database.across, table), table).rejects.toMatchObject({ cause: { code: '42501' } })
  })
})

describe('the role in the address of a server', () => {
  it('is added to options that are there', () => {
    const address = withRole(
      'postgres://ada@db/ledger?sslmode=require&options=-c%20statement_timeout%3D5s',
      DATABASE_ROLES.service,
    )
    expect(new URL(address).searchParams.get('options')).toBe('-c statement_timeout=5s -c role=anode_ledger_service')
    expect(new URL(address).searchParams.get('sslmode')).toBe('require')
  })
})
