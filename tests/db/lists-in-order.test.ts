import { randomUUID } from 'node:crypto'
import pg from 'pg'
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest'
import { AnodeQuery } from '../../src/contract/anodes.js'
import { BoatQuery } from '../../src/contract/boats.js'
import { HaulOutQuery } from '../../src/contract/haul-outs.js'
import { StayQuery } from '../../src/contract/stays.js'
import { WeighingQuery } from '../../src/contract/weighings.js'
import type { Db } from '../../src/db/client.js'
import { inOrganisation } from '../../src/db/in-organisation.js'
import { pageOfAnodes } from '../../src/db/repositories/anodes.js'
import { pageOfBoats } from '../../src/db/repositories/boats.js'
import { pageOfHaulOuts } from '../../src/db/repositories/haul-outs.js'
import { packCursor } from '../../src/db/repositories/paging.js'
import { pageOfStays } from '../../src/db/repositories/stays.js'
import { pageOfWeighings } from '../../src/db/repositories/weighings.js'
import type { Actor } from '../../src/services/actor.js'
import { type SentStatement, SqlRecorder } from '../bench/http/recorded-sql.js'
import { createOrganisation, createTestDatabase, type TestDatabase } from '../database/test-database.js'

const DAY = '2031-04-18'
const INSTANT = '2031-04-18T12:00:00.000000Z'

interface ListInOrder {
  readonly list: string
  readonly sort: string
  /** The value after which the second page begins. */
  readonly value: string
  readonly read: (tx: Db, actor: Actor, query: object) => Promise<unknown>
}

const boats: ListInOrder['read'] = (tx, actor, query) => pageOfBoats(tx, actor, DAY, BoatQuery.parse(query))
const anodes: ListInOrder['read'] = (tx, actor, query) => pageOfAnodes(tx, actor, AnodeQuery.parse(query))
const haulOuts: ListInOrder['read'] = (tx, actor, query) => pageOfHaulOuts(tx, actor, HaulOutQuery.parse(query))
const stays: ListInOrder['read'] = (tx, actor, query) => pageOfStays(tx, actor, StayQuery.parse(query))
const weighings: ListInOrder['read'] = (tx, actor, query) => pageOfWeighings(tx, actor, WeighingQuery.parse(query))

const LISTS: readonly ListInOrder[] = [
  { list: 'boats', sort: 'name', value: 'Boat 1', read: boats },
  { list: 'boats', sort: 'createdAt', value: INSTANT, read: boats },
  { list: 'anodes', sort: 'boat', value: 'Boat 1', read: anodes },
  { list: 'haul-outs', sort: 'hauledOn', value: DAY, read: haulOuts },
  { list: 'stays', sort: 'fromOn', value: DAY, read: stays },
  { list: 'weighings', sort: 'weighedOn', value: DAY, read: weighings },
]
const BOTH_WAYS = LISTS.flatMap((each) => [each, { ...each, sort: `-${each.sort}` }])

interface PlanNode {
  readonly 'Node Type': string
  readonly 'Index Cond'?: string
  readonly Plans?: readonly PlanNode[]
}

const nodesOf = (node: PlanNode): PlanNode[] => [node, ...(node.Plans ?? []).flatMap(nodesOf)]

describe.skipIf(inject('testDatabase').kind === 'embedded')('a page of a list', () => {
  const recorder = new SqlRecorder()
  let database: TestDatabase
  let actor: Actor
  let client: pg.Client

  beforeAll(async () => {
    database = await createTestDatabase()
    actor = await createOrganisation(database.db)
    client = new pg.Client({ connectionString: database.url })
    await client.connect()
    // In tables without rows the planner would sort them: so it says whether it must.
    await client.query('set enable_sort = off; set enable_seqscan = off; set enable_bitmapscan = off')
  })

  afterAll(async () => {
    recorder.stop()
    await client.end()
    await database.close()
  })

  async function planOf({ read }: ListInOrder, query: object): Promise<PlanNode[]> {
    const sent = await recorder.during(() => inOrganisation(database.service, actor, (tx) => read(tx, actor, query)))
    const { text, values } = sent.find((statement) => / limit \$\d+$/.test(statement.text)) as SentStatement
    const { rows } = await client.query(`explain (format json) ${text}`, [...values])
    return nodesOf(rows[0]['QUERY PLAN'][0].Plan)
  }

  it.each(BOTH_WAYS)('of $list by $sort is read in its order: no other rows are read to be sorted', async (asked) => {
    const nodes = await planOf(asked, { sort: asked.sort })
    expect(nodes.map((node) => node['Node Type'])).not.toContain('Sort')
  })

  it.each(BOTH_WAYS)('of $list by $sort begins where the one before ended, by the index', async (asked) => {
    const cursor = packCursor([asked.list, asked.sort, asked.value, randomUUID()])
    const nodes = await planOf(asked, { sort: asked.sort, cursor })
    expect(nodes.map((node) => node['Node Type'])).not.toContain('Sort')
    const beyond = asked.sort.startsWith('-') ? '<=' : '>='
    expect(nodes.some((node) => node['Index Cond']?.includes(beyond))).toBe(true)
  })
})
