import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest'
import { openDatabase } from '../../src/db/client.js'
import { StatementWatch } from '../../src/telemetry/statement-watch.js'
import { createTestDatabase, type TestDatabase } from '../database/test-database.js'
import { refitNow } from '../http/refitted-fleet.js'
import { startTestServer, type TestServer } from '../http/server.js'
import { fleetFiles, importFleet } from '../http/small-fleet.js'

const NOW = new Date('2026-04-01T12:00:00Z')
/** An id that nothing has. */
const NOTHING = '00000000-0000-4000-8000-000000000000'

/** Hears every statement, as the driver sends it. */
class Heard extends StatementWatch {
  readonly statements = new Set<string>()

  override begin(text: string) {
    this.statements.add(text)
    return super.begin(text)
  }
}

/** The only statements of a request that look through all organisations: whose is it that asks. */
const WHO_ASKS = [
  /from "api_keys" where "api_keys"."secret_sha256" = \$1/,
  /^update "api_keys" set "last_used_at" = /,
  /from "members" left join "organisations" .* where "members"."email" = \$1/,
]

interface Named {
  readonly table: string
  readonly alias: string
}

const NO_ALIAS =
  /^(where|on|set|order|left|right|inner|join|cross|values|group|limit|for|using|union|returning|select|as|and|having)$/

/** The tables that a statement names, and by what name it goes on to speak of them. */
function tablesOf(statement: string): Named[] {
  const named = statement.matchAll(/\b(?:from|join|update|into)\s+"?([a-z_]+)"?(?:\s+(?:as\s+)?"?([a-z_]+)"?)?/gi)
  return [...named].map(([, table, alias]) => ({
    table: table!,
    alias: alias === undefined || NO_ALIAS.test(alias.toLowerCase()) ? table! : alias,
  }))
}

/** Whether the organisation is said of each table of organisations: by its name, or by the bare column where there is one table. */
function namesOrganisation(statement: string, ofOrganisations: ReadonlySet<string>): boolean {
  const tables = tablesOf(statement).filter(({ table }) => ofOrganisations.has(table))
  const [only, ...more] = new Set(tables.map(({ alias }) => alias))
  if (only !== undefined && more.length === 0 && /(^|[^."])"?organisation_id"?/.test(statement)) return true
  return tables.every(({ alias }) => new RegExp(`"?\\b${alias}"?\\."?organisation_id\\b`).test(statement))
}

describe.skipIf(inject('testDatabase').kind === 'embedded')('each statement of a request', () => {
  const heard = new Heard()
  let plain: TestDatabase
  let server: TestServer
  let ofOrganisations: ReadonlySet<string>

  beforeAll(async () => {
    plain = await createTestDatabase()
    const watched = await openDatabase({ databaseUrl: plain.url, dataDir: '' }, heard)
    const { service, across } = watched
    const close = async () => {
      await watched.close()
      await plain.close()
    }
    server = await startTestServer({ database: { ...plain, service, across, close }, now: () => NOW })
    const { rows } = (await plain.db.execute(sql`select table_name as name from information_schema.columns
      where table_schema = 'public' and column_name = 'organisation_id'`)) as unknown as { rows: { name: string }[] }
    ofOrganisations = new Set(rows.map(({ name }) => name))
    await importFleet(server, fleetFiles(server.ownerEmail))
    await refitNow(server, () => NOW)
  })

  afterAll(async () => {
    await server?.app.close()
    await server?.database.close()
  })

  /** What was sent and does not name the organisation of each table. */
  function strays(): string[] {
    return [...heard.statements].filter(
      (text) => !WHO_ASKS.some((known) => known.test(text)) && !namesOrganisation(text, ofOrganisations),
    )
  }

  it.each(['manager', 'owner'] as const)('that reads for the %s names the organisation of each table', async (role) => {
    const headers = await server.actorOf(role)
    heard.statements.clear()
    const failed: string[] = []
    let answered = 0
    for (const { method, url, permission } of server.app.guardedRoutes) {
      if (method !== 'GET' || permission === 'open') continue
      const path = url
        .replace(':boat', 'Boat%20A')
        .replace(':anode', 'shaft%203')
        .replaceAll(/:[\w]+/g, NOTHING)
      const { statusCode, body } = await server.app.inject({ url: path, headers })
      if (statusCode === 200) answered++
      if (statusCode >= 500) failed.push(`${url}: ${body}`)
    }
    expect(failed).toEqual([])
    expect(answered).toBeGreaterThan(role === 'manager' ? 30 : 10)
    expect(heard.statements.size).toBeGreaterThan(40)
    expect(strays()).toEqual([])
  })

  it('that writes a haul-out with its weighings, and its refit, names it too', async () => {
    const headers = await server.actorOf('staff')
    heard.statements.clear()
    const payload = {
      hauledOn: '2026-03-31',
      weighings: [{ anode: 'shaft 3', massG: 700, replacedBy: { alloy: 'zinc', grossMassG: 1080, coreMassG: 80 } }],
    }
    const url = '/v1/boats/Boat%20A/haul-outs'
    const written = await server.app.inject({
      method: 'POST',
      url,
      headers: { ...headers, 'idempotency-key': 'a haul-out' },
      payload,
    })
    expect(written.statusCode, written.body).toBe(201)
    await refitNow(server, () => NOW)
    expect([...heard.statements].some((text) => text.startsWith('insert into "weighings"'))).toBe(true)
    expect([...heard.statements].some((text) => text.startsWith('insert into "forecasts"'))).toBe(true)
    expect(strays()).toEqual([])
  })

  it.each([
    ['select * from "boats" where "boats"."id" = $1', false],
    ['select * from "boats" where "boats"."organisation_id" = $1', true],
    ['select * from weighings w join anodes a on a.id = w.anode_id where w.organisation_id = $1', false],
    [
      'select * from weighings w join anodes a on a.organisation_id = w.organisation_id where w.organisation_id = $1',
      true,
    ],
    ['insert into "boats" ("organisation_id", "name") values ($1, $2)', true],
    ['update "boats" set "name" = $1 where "boats"."id" = $2', false],
    ['select * from auth_users where id = $1', true],
  ])('would be missed if it did not: %s', (text, isNamed) => {
    expect(namesOrganisation(text, ofOrganisations)).toBe(isNamed)
  })
})
