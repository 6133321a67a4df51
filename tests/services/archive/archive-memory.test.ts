import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { startTestServer, type TestServer } from '../../http/server.js'

const ROWS = 20_000
const MEBIBYTE = 2 ** 20
/** What the rows are as text: far above the bound, so that whoever holds them all breaks it. */
const LEAST_TEXT_BYTES = 80 * MEBIBYTE
const BOUND_BYTES = 40 * MEBIBYTE

setFlagsFromString('--expose-gc')
const collect = runInNewContext('gc') as () => void
/** What cannot be thrown away. */
function heldBytes(): number {
  collect()
  const { heapUsed, external } = process.memoryUsage()
  return heapUsed + external
}

let server: TestServer
beforeAll(async () => {
  server = await startTestServer()
  await server.database.db.execute(sql`insert into audit_entries (organisation_id, actor, action, table_name, row_id, after)
    select ${server.organisationId}, 'person:staff@example.org', 'update', 'boats', gen_random_uuid(),
      jsonb_build_object('note', (select string_agg(md5((i * 1000 + part)::text), '') from generate_series(1, 130) part))
    from generate_series(1, ${sql.raw(String(ROWS))}) i`)
}, 120_000)
afterAll(() => server.close())

it('holds a part of an archive at a time, however much there is', { timeout: 120_000 }, async () => {
  const acting = { organisationId: server.organisationId, actor: 'test:administrator', role: 'administrator' } as const
  const before = heldBytes()
  let peak = before
  const watch = setInterval(() => {
    peak = Math.max(peak, heldBytes())
  }, 500)
  try {
    let bytes = 0
    for await (const chunk of await server.services.organisationArchive.open(acting)) bytes += chunk.length
    // Random hexadecimal digits are packed to about half.
    expect(bytes).toBeGreaterThan(LEAST_TEXT_BYTES / 2)
    expect(peak - before).toBeLessThan(BOUND_BYTES)
  } finally {
    clearInterval(watch)
  }
})
