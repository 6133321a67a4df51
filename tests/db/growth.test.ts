import { type SQL, sql } from 'drizzle-orm'
import pg from 'pg'
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest'
import { AnodeQuery } from '../../src/contract/anodes.js'
import { BoatQuery } from '../../src/contract/boats.js'
import { NewHaulOut } from '../../src/contract/haul-outs.js'
import { NoticeQuery } from '../../src/contract/notices.js'
import type { Db } from '../../src/db/client.js'
import { inOrganisation } from '../../src/db/in-organisation.js'
import { pageOfAnodes } from '../../src/db/repositories/anodes.js'
import { pageOfBoats } from '../../src/db/repositories/boats.js'
import { findingsOf } from '../../src/db/repositories/findings.js'
import { pageOfNotices } from '../../src/db/repositories/notices.js'
import { DATABASE_ROLES, withRole } from '../../src/db/roles.js'
import type { Actor } from '../../src/services/actor.js'
import { HaulOutService } from '../../src/services/haul-outs/haul-outs.js'
import { growths, inWords, tooFast } from '../bench/growth/compare.js'
import type { Touched } from '../bench/growth/explain.js'
import { explainAll } from '../bench/growth/touched.js'
import { SqlRecorder } from '../bench/http/recorded-sql.js'
import { playable } from '../bench/http/replayed-sql.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../database/test-database.js'
import { RecordedRefits } from '../http/recorded-refits.js'

const DAY = '2031-04-18'
const BOATS = 200
const TIMES = 10
const PAGE = 20

type Asked = (tx: Db, actor: Actor) => Promise<unknown>
interface Page {
  readonly nextCursor: string | null
}

/** The first page of a list and the one after it. */
const twoPages =
  (page: (tx: Db, actor: Actor, query: object) => Promise<Page>, filters: object): Asked =>
  async (tx, actor) => {
    const query = { ...filters, limit: PAGE }
    const { nextCursor } = await page(tx, actor, query)
    if (nextCursor !== null) await page(tx, actor, { ...query, cursor: nextCursor })
  }

const boats = (filters: object) =>
  twoPages((tx, actor, query) => pageOfBoats(tx, actor, DAY, BoatQuery.parse(query)), filters)
const anodes = (filters: object) =>
  twoPages((tx, actor, query) => pageOfAnodes(tx, actor, AnodeQuery.parse(query)), filters)

const HOT: Readonly<Record<string, Asked>> = {
  'the fleet page': boats({ sort: 'name' }),
  'the newest boats': boats({ sort: '-createdAt' }),
  'boats by a part that most names hold': boats({ q: 'oat' }),
  'boats by a part that some names hold': boats({ q: 'Boat 11' }),
  'boats in salt water by a part that some names hold': boats({ q: 'Boat 11', water: 'salt' }),
  'boats by a part that one name holds': boats({ q: 'at 77.' }),
  'boats by their owner': boats({ owner: 'Owner-77@example.org' }),
  'anodes by boat': anodes({ sort: 'boat' }),
  'anodes by a part that many names hold': anodes({ q: 'hull 1', sort: 'boat' }),
  'anodes of a boat': anodes({ boat: 'Boat 77.' }),
  findings: (tx, { organisationId }) => findingsOf(tx, organisationId),
  letters: twoPages((tx, { organisationId }, query) => pageOfNotices(tx, organisationId, NoticeQuery.parse(query)), {}),
  'a haul-out': (tx, actor) => {
    const weighings = [1, 2].map((position) => ({ anode: `hull ${position}`, massG: 900, resolutionG: 1 }))
    const lift = NewHaulOut.parse({ hauledOn: DAY, planned: true, weighings })
    return new HaulOutService(tx, new RecordedRefits(), () => DAY).create(actor, 'Boat 77.', lift)
  },
}

class Undone extends Error {}

describe.skipIf(inject('testDatabase').kind === 'embedded')('with ten times the boats', () => {
  const recorder = new SqlRecorder()
  let database: TestDatabase
  let client: pg.Client
  let small: Actor
  let large: Actor

  beforeAll(async () => {
    database = await createTestDatabase()
    small = await createOrganisation(database.db)
    large = await createOrganisation(database.db)
    await fill(database.db, small.organisationId, BOATS)
    await fill(database.db, large.organisationId, BOATS * TIMES)
    await database.db.execute(sql`analyze`)
    client = new pg.Client({ connectionString: withRole(database.url!, DATABASE_ROLES.service) })
    await client.connect()
  })

  afterAll(async () => {
    recorder.stop()
    await client.end()
    await database.close()
  })

  /** What its statements touch; nothing of it is kept. */
  async function touchedBy(asked: Asked, actor: Actor): Promise<Map<string, Touched>> {
    const sent = await recorder.during(() =>
      inOrganisation(database.service, actor, async (tx) => {
        await asked(tx, actor)
        throw new Undone()
      }).catch((error: unknown) => {
        if (!(error instanceof Undone)) throw error
      }),
    )
    const touched = new Map<string, Touched>()
    await explainAll(client, 'service', { name: '', played: playable(sent) }, touched)
    return touched
  }

  const growing = async (asked: Asked) => {
    const all = growths(await touchedBy(asked, small), await touchedBy(asked, large))
    expect(all).not.toEqual([])
    return tooFast(all).map(inWords)
  }

  it.each(Object.entries(HOT))('no statement for %s looks at more than it gives', async (_name, asked) => {
    expect(await growing(asked)).toEqual([])
  })

  it('one that looks at all rows to give none is told', async () => {
    const all: Asked = (tx, { organisationId }) =>
      tx.execute(sql`select id from weighings where organisation_id = ${organisationId} and note = 'none says this'`)
    expect(await growing(all)).toHaveLength(1)
  })
})

/**
 * Boats with an owner, a berth of their own, two positions, an anode before and one in place at each, their weighings, a finding in four and
 * two letters.
 */
async function fill(db: Db, organisationId: string, count: number): Promise<void> {
  // Of version 4 and variant 1 (RFC 9562, 5.4): others are no ids to a cursor.
  const id = (what: string, ...of: string[]) => {
    const hash = `md5(concat_ws('/', '${organisationId}', '${what}', ${of.join(', ')}))`
    return sql.raw(`overlay(overlay(${hash} placing '4' from 13) placing '8' from 17)::uuid`)
  }
  const n = sql`generate_series(1, ${count}::int) n`
  const insert = (into: string, columns: string, rows: SQL) =>
    db.execute(
      sql`insert into ${sql.raw(`${into} (organisation_id, ${columns})`)} select ${organisationId}::uuid, ${rows}`,
    )
  await insert(
    'owners',
    'id, name, email',
    sql`${id('owner', 'n')}, 'Owner ' || n, 'owner-' || n || '@example.org' from ${n}`,
  )
  await insert(
    'boats',
    'id, name, owner_id',
    sql`${id('boat', 'n')}, 'Boat ' || n || '.', ${id('owner', 'n')} from ${n}`,
  )
  await insert('pontoons', 'id, name', sql`${id('pontoon', "''")}, 'Pontoon'`)
  await insert(
    'berths',
    'id, name, water, pontoon_id',
    sql`${id('berth', 'n')}, 'Berth ' || n, 'salt', ${id('pontoon', "''")} from ${n}`,
  )
  await insert(
    'stays',
    'boat_id, berth_id, from_on',
    sql`${id('boat', 'n')}, ${id('berth', 'n')}, date '2030-03-01' from ${n}`,
  )
  const p = sql`${n}, generate_series(1, 2) p`
  await insert(
    'positions',
    'id, boat_id, label, kind',
    sql`${id('position', 'n', 'p')}, ${id('boat', 'n')}, 'hull ' || p, 'hull' from ${p}`,
  )
  const life = sql`(values ('old ', date '2029-03-01', date '2030-03-01'), ('', date '2030-03-01', null)) life (was, fitted_on, removed_on)`
  await insert(
    'anodes',
    'id, boat_id, position_id, name, alloy, fitted_on, removed_on, gross_mass_g, core_mass_g',
    sql`${id('anode', 'n', 'p', 'was')}, ${id('boat', 'n')}, ${id('position', 'n', 'p')}, was || 'hull ' || p, 'zinc', fitted_on, removed_on, 1250, 80
      from ${p}, ${life}`,
  )
  await insert(
    'weighings',
    'anode_id, weighed_on, mass_g',
    sql`${id('anode', 'n', 'p', 'was')}, fitted_on + 100 * w, 1200 - 50 * w from ${p}, ${life}, generate_series(1, 2) w`,
  )
  await insert(
    'findings',
    'scope, boat_id, direction, since_on, surprise, detail, opened_on, as_of, seen_revision',
    sql`'boat', ${id('boat', 'n')}, 'fast', date '2031-01-01', 3, '{}', date '2031-04-01', date '2031-04-01', 0 from ${n} where n % 4 = 0`,
  )
  await insert(
    'notices',
    'kind, boat_id, email, once, decided_on, why, state, created_at',
    sql`'boat', ${id('boat', 'n')}, 'owner-' || n || '@example.org', 'letter ' || p, date '2031-04-01', '[]', 'sent',
      timestamptz '2031-04-01' + n * interval '1 second' from ${p}`,
  )
}
