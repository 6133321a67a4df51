import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { ForecastItem } from '../../src/contract/forecasts.js'
import { FittedFleets } from '../../src/services/model/fitted-fleets.js'
import { RefitService } from '../../src/services/model/refit.js'
import { askAs } from './ask.js'
import { startTestServer, type TestServer } from './server.js'

const TODAY = '2026-06-15'
const now = () => new Date(`${TODAY}T10:00:00Z`)

let first: TestServer
const others: TestServer[] = []
beforeAll(async () => {
  first = await startTestServer({ now })
})
afterAll(async () => {
  for (const other of others) await other.app.close()
  await first.close()
})

type Files = Readonly<Record<string, string>>

const BASE: Files = {
  'berths.csv': 'berth,water,latitude\nA1,salt,54\n',
  'boats.csv': 'boat\nWren\n',
  'stays.csv': 'boat,from,to,berth\nWren,1980-01-01,,A1\n',
}
const ANODES = 'boat,anode,position,alloy,fitted_on,gross_mass_g,core_mass_g\n'
const WEIGHINGS = 'boat,anode,weighed_on,mass_g,resolution_g,cleaned\n'

/** An organisation of its own, its files sent by a program. */
async function load(files: Files) {
  const server = await startTestServer({ now, database: first.database })
  others.push(server)
  const form = new FormData()
  for (const [name, text] of Object.entries({ ...BASE, ...files })) form.append('file', new Blob([text]), name)
  const body = new Response(form)
  const headers = { ...(await server.actorOf('manager')), 'content-type': body.headers.get('content-type') ?? '' }
  const payload = Buffer.from(await body.arrayBuffer())
  const answer = await server.app.inject({ method: 'POST', url: '/v1/imports', headers, payload })
  return { server, answer }
}

/** The forecasts that a refit issues, each finite, in order, and no date ahead of what today's mass says. */
async function forecastsOf(files: Files): Promise<ForecastItem[]> {
  const { server, answer } = await load(files)
  expect(answer.statusCode, answer.body).toBe(200)
  const { service: db } = server.database
  await new RefitService(db, new FittedFleets(), now, 0).refit(server.organisationId, async () => {})
  const { status, body } = await askAs(server, await server.actorOf('manager'))('GET', '/v1/forecasts')
  expect(status, JSON.stringify(body)).toBe(200)
  for (const item of body.items as ForecastItem[]) expectSound(item)
  return body.items
}

function expectSound({ asOf, massNow, consumedNow, threshold, replace, ...item }: ForecastItem): void {
  const numbers = [...Object.values(massNow), ...Object.values(item.rate), ...Object.values(item.basis), consumedNow]
  for (const number of [...numbers, item.riskBeforeNextHaulOut]) expect(number).toSatisfy(Number.isFinite)
  const days = [replace.p05, replace.p10, replace.p50, replace.p90, replace.p95].map((day) => day ?? '9999-12-31')
  expect([...days].sort()).toEqual(days)
  if (consumedNow < threshold - 0.01) expect(replace.p50 ?? '9999').toSatisfy((day: string) => day >= asOf)
  if (consumedNow > threshold + 0.01) expect(replace.p50).toSatisfy((day: string) => day <= asOf)
}

async function refusalOf(files: Files): Promise<{ file: string; line: number; column: string; reason: string }[]> {
  const { answer } = await load(files)
  expect(answer.statusCode, answer.body).toBe(422)
  return answer.json().errors
}

const years = (from: string, to: string | null) => (Date.parse(to ?? '9999-12-31') - Date.parse(from)) / 31_557_600_000

describe('an odd fleet that is sent gets an answer, wide where little is known', () => {
  it('one boat, one anode, no weighing', async () => {
    const [only] = await forecastsOf({ 'anodes.csv': `${ANODES}Wren,H1,hull,zinc,2026-05-01,1080,80\n` })
    expect(only!.basis.anode).toBeLessThan(0.05)
    expect(years(only!.replace.p10!, only!.replace.p90)).toBeGreaterThan(1)
  })

  it('an anode of which no mass is known has no forecast, and its boat has a page', async () => {
    expect(await forecastsOf({ 'anodes.csv': `${ANODES}Wren,H1,hull,zinc,2026-05-01,,\n` })).toEqual([])
    const server = others.at(-1)!
    const { status, body } = await askAs(server, await server.actorOf('staff'))('GET', '/v1/boats/Wren/depletion')
    expect(status).toBe(200)
    expect(body.anodes).toMatchObject([{ anode: 'H1', forecast: null, curve: [] }])
  })

  it('weighings with no day in the water between them', async () => {
    const [only] = await forecastsOf({
      'stays.csv': 'boat,from,to,berth\nWren,2024-01-01,,\n',
      'anodes.csv': `${ANODES}Wren,H1,hull,zinc,2024-05-01,1080,80\n`,
      'weighings.csv': `${WEIGHINGS}Wren,H1,2025-05-01,1079,1,yes\nWren,H1,2026-05-01,1080,1,yes\n`,
    })
    expect(Math.abs(only!.massNow.p50 - 1079.5)).toBeLessThan(5)
  })

  it('every mass a gain within the error of a coarse scale', async () => {
    const rows = [2023, 2024, 2025, 2026].map((year, i) => `Wren,H1,${year}-05-01,${1080 + 10 * i},20,no\n`)
    const [only] = await forecastsOf({
      'anodes.csv': `${ANODES}Wren,H1,hull,zinc,2022-05-01,1080,80\n`,
      'weighings.csv': WEIGHINGS + rows.join(''),
    })
    expect(years(TODAY, only!.replace.p50)).toBeGreaterThan(1)
  })

  it('a weighing of forty years ago', async () => {
    const [only] = await forecastsOf({
      'anodes.csv': `${ANODES}Wren,H1,hull,zinc,1985-05-01,1080,80\n`,
      'weighings.csv': `${WEIGHINGS}Wren,H1,1986-05-01,950,1,yes\n`,
    })
    expect(only!.recommendedOn).toBe(TODAY)
    expect(only!.replace.p05! >= '1986-05-01').toBe(true)
    expect(only!.replace.p95! < TODAY).toBe(true)
  })

  it.each([0, 42])('a berth in water of %d psu', async (salinity) => {
    const water = salinity === 0 ? 'fresh' : 'salt'
    const items = await forecastsOf({
      'berths.csv': `berth,water,salinity_psu,latitude\nA1,${water},${salinity},54\n`,
      'anodes.csv': `${ANODES}Wren,H1,hull,magnesium,2026-05-01,1080,80\n`,
    })
    expect(items).toHaveLength(1)
  })

  it('one row ten thousand times, which says it once', async () => {
    const row = 'Wren,H1,2025-05-01,900,1,yes\n'
    const anodes = `${ANODES}Wren,H1,hull,zinc,2024-05-01,1080,80\n`
    const often = await forecastsOf({ 'anodes.csv': anodes, 'weighings.csv': WEIGHINGS + row.repeat(10_000) })
    const once = await forecastsOf({ 'anodes.csv': anodes, 'weighings.csv': WEIGHINGS + row })
    expect(often).toEqual(once)
  })

  it('rows in any order give the same dates', async () => {
    const boats = ['Wren', 'Dunlin', 'Stint']
    const lines = {
      'boats.csv': boats,
      'stays.csv': boats.flatMap((boat) => [`${boat},2020-01-01,2023-01-01,A1`, `${boat},2023-01-01,,A1`]),
      'anodes.csv': boats.map((boat, i) => `${boat},H1,hull,zinc,2024-0${i + 3}-01,1080,80`),
      'weighings.csv': boats.flatMap((boat, i) => [
        `${boat},H1,2025-05-01,${920 - 20 * i},1,yes`,
        `${boat},H1,2026-05-01,${800 - 30 * i},1,yes`,
      ]),
    }
    const heads = { 'boats.csv': 'boat\n', 'stays.csv': 'boat,from,to,berth\n', 'anodes.csv': ANODES }
    const filesOf = (order: (list: string[]) => string[]) =>
      Object.fromEntries(
        Object.entries(lines).map(([name, list]) => [
          name,
          `${{ ...heads, 'weighings.csv': WEIGHINGS }[name]}${order(list).join('\n')}\n`,
        ]),
      )
    const byBoat = (items: ForecastItem[]) => [...items].sort((a, b) => (a.boat < b.boat ? -1 : 1))
    const forwards = byBoat(await forecastsOf(filesOf((list) => list)))
    const backwards = byBoat(await forecastsOf(filesOf((list) => [...list].reverse())))
    expect(backwards).toHaveLength(3)
    for (const [i, { replace, massNow }] of forwards.entries()) {
      const days = years(replace.p50!, backwards[i]!.replace.p50) * 365.25
      expect(Math.abs(days)).toBeLessThanOrEqual(1)
      expect(backwards[i]!.massNow.p50).toBeCloseTo(massNow.p50, 1)
    }
  })
})

describe('an odd fleet that cannot be meant is refused, with the cell and the reason', () => {
  it('two weighings of one anode on one day', async () => {
    const errors = await refusalOf({
      'anodes.csv': `${ANODES}Wren,H1,hull,zinc,2024-05-01,1080,80\n`,
      'weighings.csv': `${WEIGHINGS}Wren,H1,2025-05-01,900,1,yes\nWren,H1,2025-05-01,904,1,yes\n`,
    })
    expect(errors).toHaveLength(1)
    expect(errors[0]).toMatchObject({ file: 'weighings.csv', line: 3 })
  })

  it('water saltier than any that the scale knows', async () => {
    const errors = await refusalOf({ 'berths.csv': 'berth,water,salinity_psu\nA1,salt,99\n' })
    expect(errors).toMatchObject([{ file: 'berths.csv', line: 2, column: 'salinity_psu' }])
  })

  it('a mass that is a gain beyond any error, in a short file', async () => {
    const errors = await refusalOf({
      'anodes.csv': `${ANODES}Wren,H1,hull,zinc,2024-05-01,1080,80\n`,
      'weighings.csv': `${WEIGHINGS}Wren,H1,2025-05-01,1500,1,yes\n`,
    })
    expect(errors).toMatchObject([{ file: 'weighings.csv', line: 2, column: 'mass_g' }])
  })
})
