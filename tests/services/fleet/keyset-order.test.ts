import { sql } from 'drizzle-orm'
import { pgTable, text, uuid } from 'drizzle-orm/pg-core'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { SortOrder } from '../../../src/contract/paging.js'
import { keysetOf, textKey } from '../../../src/db/repositories/paging.js'
import { createTestDatabase, type TestDatabase } from '../../database/test-database.js'

const words = pgTable('words_to_sort', { id: uuid('id').primaryKey().defaultRandom(), word: text('word') })

let database: TestDatabase
let collation: 'en-x-icu' | 'C'

beforeAll(async () => {
  database = await createTestDatabase()
  // A column that sorts as people do where the database can (the embedded one cannot): "a" before "B" before "ä".
  const found = await database.executor.executeSql(`select 1 from pg_collation where collname = 'en-x-icu'`)
  collation = found.rows.length > 0 ? 'en-x-icu' : 'C'
  await database.executor.executeSql(
    `create table words_to_sort (id uuid primary key default gen_random_uuid(), word text collate "${collation}")`,
  )
})
afterAll(() => database.close())

/** The words as the pages give them, one page after the other. */
async function pages(sort: SortOrder<'word'>, limit: number): Promise<(string | null)[]> {
  const all: (string | null)[] = []
  for (let cursor: string | undefined; ; ) {
    const keyset = keysetOf('words', { sort, limit, cursor }, { word: textKey(words.word) }, words.id)
    const rows = await database.db
      .select({ id: words.id, word: words.word, cursorValue: keyset.cursorValue })
      .from(words)
      .where(keyset.after)
      .orderBy(...keyset.orderBy)
      .limit(keyset.limit)
    const page = keyset.page(rows, ({ word }) => word)
    all.push(...page.items)
    if (page.nextCursor === null) return all
    cursor = page.nextCursor
  }
}

const byCodePoint = (a: string, b: string) => Buffer.compare(Buffer.from(a), Buffer.from(b))
const storable = fc.string({ unit: 'grapheme', maxLength: 6 }).filter((word) => !word.includes('\0'))

describe('pages over any texts', () => {
  it('give each once, by code point whatever the locale, the empty ones last', async () => {
    const lists = fc.array(fc.oneof(storable, fc.constantFrom('a', 'B', 'ä', 'b', 'A', ''), fc.constant(null)), {
      maxLength: 25,
    })
    await fc.assert(
      fc.asyncProperty(lists, fc.integer({ min: 1, max: 7 }), async (list, limit) => {
        await database.db.delete(words)
        if (list.length > 0) await database.db.insert(words).values(list.map((word) => ({ word })))
        const known = list.filter((word) => word !== null).sort(byCodePoint)
        const unknown = list.filter((word) => word === null)
        expect(await pages('word', limit)).toEqual([...known, ...unknown])
        expect(await pages('-word', limit)).toEqual([...known.reverse(), ...unknown])
      }),
      { numRuns: 40 },
    )
  })

  it('would not be in that order by the locale of a column that has one', async () => {
    await database.db.delete(words)
    await database.db.insert(words).values(['a', 'B', 'C'].map((word) => ({ word })))
    const byLocale = await database.db.select({ word: words.word }).from(words).orderBy(sql`word`)
    const expected = collation === 'en-x-icu' ? ['a', 'B', 'C'] : ['B', 'C', 'a']
    expect(byLocale.map(({ word }) => word)).toEqual(expected)
    expect(await pages('word', 2)).toEqual(['B', 'C', 'a'])
  })
})
