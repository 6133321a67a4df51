import pg from 'pg'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { SwiftClient } from '../../src/db/swift-client.js'
import { createServerDatabase } from '../database/test-database.js'

const database = await createServerDatabase()

describe.skipIf(database === undefined)('a connection of the services', () => {
  let pool: pg.Pool

  beforeAll(async () => {
    pool = new pg.Pool({ connectionString: database?.url, max: 1, Client: SwiftClient })
    await pool.query('create table kept (n integer primary key)')
  })

  afterAll(async () => {
    await pool.end()
    await database?.drop()
  })

  const kept = async () => (await pool.query('select n from kept order by n')).rows.map(({ n }) => n)

  it('does what was asked for in one go in that order', async () => {
    const client = await pool.connect()
    await client.query('begin')
    const counts = [1, 2, 3].flatMap((n) => [
      client.query('insert into kept values ($1)', [n]),
      client.query('select count(*)::int as count from kept'),
    ])
    const answers = await Promise.all(counts)
    await client.query('rollback')
    client.release()
    expect(answers.flatMap(({ rows }) => rows.map(({ count }) => count))).toEqual([1, 2, 3])
    expect(await kept()).toEqual([])
  })

  it('refuses what follows a refusal in the same transaction, and is as good as new after it', async () => {
    const client = await pool.connect()
    await client.query('begin')
    const settled = await Promise.allSettled([
      client.query('insert into kept values (4)'),
      client.query('insert into kept values ($1)', ['no number']),
      client.query('insert into kept values (5)'),
    ])
    await client.query('rollback')
    client.release()
    expect(settled.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'rejected'])
    await pool.query('insert into kept values (6)')
    expect(await kept()).toEqual([6])
  })

  it('prepares a statement that comes a third time, and takes other values for it', async () => {
    const given: number[] = []
    for (const n of [1, 2, 3, 4]) {
      const { rows } = await pool.query({ text: 'select $1::int + 1 as next', values: [n] })
      given.push(rows[0].next)
    }
    expect(given).toEqual([2, 3, 4, 5])
    const prepared = await pool.query('select statement from pg_prepared_statements')
    expect(prepared.rows).toEqual([{ statement: 'select $1::int + 1 as next' }])
  })
})
