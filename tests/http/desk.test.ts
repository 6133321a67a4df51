import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Comparisons, DepletionPage, DeskBoatPage, DeskCalendar } from '../../src/contract/desk.js'
import { LiftPlanAnswer, PartsList } from '../../src/contract/desk-plan.js'
import { dataRevision } from '../../src/db/repositories/fleet-records.js'
import { FittedFleets } from '../../src/services/model/fitted-fleets.js'
import { RefitService } from '../../src/services/model/refit.js'
import { type Ask, askAs } from './ask.js'
import { startTestServer, type TestServer } from './server.js'
import { fleetFiles, importFleet } from './small-fleet.js'

const TODAY = '2026-06-15'
const now = new Date(`${TODAY}T10:00:00Z`)
/** A name that a spreadsheet would compute. */
const FORMULA = '=HYPERLINK("x")'

let server: TestServer
let manager: Ask
let owner: Ask
let staff: Ask

beforeAll(async () => {
  server = await startTestServer({ now: () => now })
  manager = askAs(server, await server.actorOf('manager'))
  staff = askAs(server, await server.actorOf('staff'))
  owner = askAs(server, await server.actorOf('owner'))
  await importFleet(server, deskFleet(server.ownerEmail))
  await new RefitService(server.database.service, new FittedFleets(), () => now, 0).refit(
    server.organisationId,
    async () => {},
  )
})
afterAll(() => server.close())

/** The small fleet on two pontoons, with a boat without anodes, one in aluminium, and more lifts in the calendar. */
function deskFleet(ownerEmail: string): Record<string, string> {
  const files = fleetFiles(ownerEmail)
  const added: Record<string, string> = {
    'boats.csv': `"${FORMULA.replaceAll('"', '""')}",Somebody,other@example.org\nBare,Somebody,other@example.org\n`,
    'stays.csv': `"${FORMULA.replaceAll('"', '""')}",2023-03-01,,N2\n`,
    'anodes.csv': `"${FORMULA.replaceAll('"', '""')}",saildrive 1,saildrive leg,aluminium,2026-04-01,,900,50\n`,
    'haul-outs.csv': 'Boat B,2026-07-01,yes\nBoat B,2027-03-01,yes\nBoat C,2026-04-01,yes\n',
  }
  for (const [name, lines] of Object.entries(added)) files[name] += lines
  return { ...files, 'berths.csv': 'berth,pontoon,water\nN1,North,salt\nN2,North,salt\nN3,South,salt\nN4,South,salt\n' }
}

const csv = async (url: string, payload?: object) => {
  const headers = await server.actorOf('manager')
  const answer = await server.app.inject(
    payload ? { method: 'POST', url, headers, payload } : { method: 'GET', url, headers },
  )
  expect(answer.statusCode, answer.body).toBe(200)
  expect(answer.headers['content-type']).toBe('text/csv; charset=utf-8')
  return answer.body
}

describe('the boats of the desk', () => {
  const read = async (query: string) => DeskBoatPage.parse((await manager('GET', `/v1/desk/boats?${query}`)).body)
  const names = async (query: string) => (await read(query)).items.map(({ boat }) => boat).sort()

  it('are all of them, by what is due first, those without a forecast last', async () => {
    const { items, total, boats } = await read('')
    expect([total, boats, items.length]).toEqual([14, 14, 14])
    expect(items.at(-1)).toMatchObject({ boat: 'Bare', anodes: 0, first: null, riskiest: null })
    const days = items.flatMap(({ first }) => first?.replace.p50 ?? [])
    expect(days).toEqual([...days].sort())
    const forecasts = (await manager('GET', '/v1/forecasts?limit=1000')).body.items
    for (const { boat, first, riskiest, anodes } of items.slice(0, -1)) {
      const own = forecasts.filter((item: { boat: string }) => item.boat === boat)
      expect(anodes).toBe(own.length)
      const risks = own.map((item: { riskBeforeNextHaulOut: number }) => item.riskBeforeNextHaulOut)
      expect(riskiest?.risk).toBe(Math.max(...risks))
      expect(own.map((item: { anode: string }) => item.anode)).toContain(first?.anode)
    }
  })

  it('are narrowed by text, place, alloy, position, date and risk', async () => {
    expect(await names('text=boat%20a')).toEqual(['Boat A'])
    expect(await names('text=saildrive')).toEqual([FORMULA])
    expect(await names('pontoon=North')).toEqual(
      ['Boat A', 'Boat B', 'Boat E', 'Boat F', 'Boat I', 'Boat J', FORMULA].sort(),
    )
    expect(await names('berth=N2')).toEqual(['Boat B', 'Boat F', 'Boat J', FORMULA].sort())
    expect(await names('alloy=aluminium')).toEqual([FORMULA])
    const { items } = await read('position=shaft')
    expect(items).toHaveLength(12)
    for (const { first, anodes } of items) expect([first?.position, anodes]).toEqual(['shaft', 1])
    const soon = await read('dueBefore=2026-08-01')
    expect(soon.total).toBeGreaterThan(0)
    for (const { first } of soon.items) expect(first!.replace.p50! <= '2026-08-01').toBe(true)
    const risky = await read('riskAbove=0.5')
    for (const { riskiest } of risky.items) expect(riskiest!.risk).toBeGreaterThan(0.5)
    expect((await read('openFindings=yes')).total + (await read('openFindings=no')).total).toBe(14)
    expect((await manager('GET', '/v1/desk/boats?alloi=zinc')).status).toBe(400)
  })

  it('come in pages that give each once, whatever the order', async () => {
    for (const sort of ['due', '-due', 'recommended', '-risk', 'boat', '-berth']) {
      const seen: string[] = []
      let cursor: string | null = ''
      while (cursor !== null) {
        const page: DeskBoatPage = await read(`limit=5&sort=${sort}&cursor=${cursor}`)
        seen.push(...page.items.map(({ boat }) => boat))
        cursor = page.nextCursor
      }
      expect(new Set(seen).size).toBe(14)
      expect(seen).toHaveLength(14)
    }
    expect((await manager('GET', '/v1/desk/boats?cursor=bm90')).status).toBe(400)
  })

  it('are for the yard, not for owners', async () => {
    expect((await staff('GET', '/v1/desk/boats')).status).toBe(200)
    for (const path of ['boats', 'calendar', 'depletion', 'comparisons', 'parts', 'views', 'boats.csv']) {
      expect((await owner('GET', `/v1/desk/${path}`)).status).toBe(403)
    }
    expect((await owner('POST', '/v1/desk/lift-plan', { days: [{ on: '2026-07-01' }] })).status).toBe(403)
  })
})

describe('the calendar', () => {
  it('has each due date and each planned lift in the one period that holds it', async () => {
    const calendar = DeskCalendar.parse((await manager('GET', '/v1/desk/calendar?periods=24')).body)
    expect(calendar.periods).toHaveLength(24)
    expect([calendar.periods[0]!.from, calendar.periods[0]!.to]).toEqual(['2026-06-01', '2026-07-01'])
    const due = [...calendar.overdue, ...calendar.periods.flatMap((period) => period.due)]
    expect(new Set(due.map(({ boat, anode }) => `${boat}/${anode}`)).size).toBe(due.length)
    const items = (await manager('GET', '/v1/forecasts?limit=1000')).body.items
    const until = items.filter((item: { replace: { p50: string } }) => item.replace.p50 < '2028-06-01')
    expect(due).toHaveLength(until.length)
    for (const { from, to, due: within } of calendar.periods)
      for (const { on } of within) expect(on >= from && on < to).toBe(true)
    expect(calendar.periods.flatMap(({ lifts }) => lifts)).toEqual([
      { boat: 'Boat B', on: '2026-07-01' },
      { boat: 'Boat A', on: '2026-09-01' },
      { boat: 'Boat B', on: '2027-03-01' },
    ])
  })

  it('has weeks that begin on Mondays', async () => {
    const { body } = await manager('GET', '/v1/desk/calendar?by=week&periods=53&from=2026-06-18')
    // 2026-06-15 was a Monday (ISO 8601 calendar).
    expect(body.periods[0]).toMatchObject({ from: '2026-06-15', to: '2026-06-22' })
    for (const { from } of body.periods) expect(new Date(`${from}T00:00:00Z`).getUTCDay()).toBe(1)
  })
})

describe('depletion by month', () => {
  it('rises while an anode stays, and passes its threshold when the forecast says so', async () => {
    const page = DepletionPage.parse((await manager('GET', '/v1/desk/depletion?sort=boat')).body)
    expect([page.months.length, page.months[0], page.months[12]]).toEqual([24, '2025-06-01', '2026-06-01'])
    const forecasts = (await manager('GET', '/v1/forecasts?limit=1000')).body.items
    for (const { boat, used, anode } of page.items.filter((item) => /^Boat/.test(item.boat))) {
      const values = used.map((value) => value ?? Number.NaN)
      values.slice(1).forEach((value, index) => {
        expect(value).toBeGreaterThanOrEqual(values[index]!)
      })
      const crossing = values.findIndex((value) => value >= 1)
      const item = forecasts.find(
        (each: { boat: string; anode: string }) => each.boat === boat && each.anode === anode[crossing],
      )
      // The middle date lies in the month whose end first finds the middle mass at the threshold, or next to it: they round apart.
      const month = page.months[crossing]!.slice(0, 7)
      const near = [page.months[crossing - 1]!, page.months[crossing]!, page.months[crossing + 1]!]
      expect(
        near.map((day) => day.slice(0, 7)),
        `${boat} ${month}`,
      ).toContain(item.replace.p50.slice(0, 7))
    }
    expect(page.items.find(({ boat }) => boat === 'Bare')?.used.every((value) => value === null)).toBe(true)
    expect(page.items.find(({ boat }) => boat === 'Boat B')?.lifts).toEqual([
      { on: '2026-07-01', planned: true },
      { on: '2027-03-01', planned: true },
    ])
  })
})

describe('comparisons', () => {
  it.each([
    ['berth', ['N1', 'N2', 'N3', 'N4']],
    ['pontoon', ['North', 'South']],
    ['alloy', ['aluminium', 'zinc']],
    ['position', ['hull', 'saildrive leg', 'shaft']],
  ])('by %s name each group with an interval around its rate', async (by, groups) => {
    const { items } = Comparisons.parse((await manager('GET', `/v1/desk/comparisons?by=${by}`)).body)
    expect(items.map(({ group }) => group).sort()).toEqual(groups)
    expect(items.reduce((sum, { anodes }) => sum + anodes, 0)).toBe(25)
    for (const { rate } of items) if (rate) expect(rate.low < rate.middle && rate.middle < rate.high).toBe(true)
  })

  it('find the shaft anodes faster than those of the hull, as they were made', async () => {
    const { items } = Comparisons.parse((await manager('GET', '/v1/desk/comparisons?by=position')).body)
    const rate = (group: string) => items.find((item) => item.group === group)!.rate!.middle
    expect(rate('shaft')).toBeGreaterThan(rate('hull'))
  })
})

describe('the lift plan', () => {
  const DAYS = ['2026-06-22', '2026-07-20', '2026-08-17', '2026-09-14', '2026-10-12'].map((on) => ({ on }))
  const plan = async (body: object) => LiftPlanAnswer.parse((await manager('POST', '/v1/desk/lift-plan', body)).body)

  it('keeps the risk that each planned lift would have by the forecasts, and tells of every boat', async () => {
    const answer = await plan({ risk: 0.3, days: DAYS, until: '2026-12-31' })
    const lifted = answer.days.flatMap(({ on, boats }) => boats.map((boat) => ({ ...boat, on })))
    const told = [
      ...lifted.map(({ boat }) => boat),
      ...answer.unheld.map(({ boat }) => boat),
      ...answer.unlifted,
      ...answer.unforecast,
    ]
    expect(new Set(told).size).toBe(14)
    expect(answer.unforecast).toEqual(['Bare'])
    const unheld = new Set(answer.unheld.map(({ boat }) => boat))
    expect(lifted.some(({ boat }) => !unheld.has(boat))).toBe(true)
    for (const { boat, risk, on, latest, replace } of lifted) {
      expect(replace.length).toBeGreaterThan(0)
      if (unheld.has(boat)) continue
      expect(risk).toBeLessThanOrEqual(0.3)
      expect(latest).toBe(on)
    }
    expect(answer.parts.reduce((sum, { count }) => sum + count, 0)).toBe(
      lifted.reduce((sum, { replace }) => sum + replace.length, 0),
    )
  })

  it('tells the risk by a day as the forecast does for a lift planned on it', async () => {
    const [forecast] = (await manager('GET', '/v1/forecasts?boat=Boat%20A&sort=-risk')).body.items
    const { unheld, days } = await plan({ risk: 0.001, days: [{ on: '2026-09-01' }], until: '2027-09-01' })
    const told = unheld.find(({ boat }) => boat === 'Boat A') ?? days[0]!.boats.find(({ boat }) => boat === 'Boat A')
    expect(told?.risk).toBeCloseTo(forecast.riskBeforeNextHaulOut, 9)
  })

  it('gives no day more boats than it has places, and says why a boat has none', async () => {
    const answer = await plan({ risk: 0.3, days: DAYS.map((day) => ({ ...day, places: 1 })), until: '2026-12-31' })
    for (const { boats } of answer.days) expect(boats.length).toBeLessThanOrEqual(1)
    expect(answer.unheld.length).toBeGreaterThan(0)
    for (const { reason, liftedOn, heldUntil, risk } of answer.unheld) {
      expect(['before-first-day', 'no-place', 'between-days']).toContain(reason)
      expect(risk).toBeGreaterThan(0.3)
      if (liftedOn && heldUntil) expect(heldUntil < liftedOn).toBe(true)
    }
  })

  it('refuses days that lie behind, an end before the last day, and a day twice', async () => {
    expect((await manager('POST', '/v1/desk/lift-plan', { days: [{ on: '2026-01-01' }] })).body.errors).toEqual([
      { pointer: '#/days/0/on', detail: '2026-01-01 lies behind: give days from 2026-06-15 on' },
    ])
    expect((await manager('POST', '/v1/desk/lift-plan', { days: DAYS, until: '2026-07-01' })).status).toBe(422)
    expect((await manager('POST', '/v1/desk/lift-plan', { days: [DAYS[0], DAYS[0]] })).status).toBe(400)
    expect((await manager('POST', '/v1/desk/lift-plan', { days: [], risk: 2 })).status).toBe(400)
  })
})

describe('the parts list', () => {
  it('has what would pass the risk before the following lift, at each planned lift', async () => {
    const list = PartsList.parse((await manager('GET', '/v1/desk/parts?risk=0.1')).body)
    expect(list.lifts.map(({ boat, on, next }) => [boat, on, next])).toEqual([
      ['Boat B', '2026-07-01', '2027-03-01'],
      ['Boat A', '2026-09-01', '2027-09-01'],
      ['Boat B', '2027-03-01', '2028-02-29'],
    ])
    // Both of Boat A's are past the threshold by then: 384 g and 324 g of 1000 g went in the year before.
    expect(list.lifts[1]!.replace.map(({ position }) => position).sort()).toEqual(['hull', 'shaft'])
    expect(list.parts).toEqual([
      {
        alloy: 'zinc',
        shape: null,
        massG: 1100,
        count: list.lifts.reduce((sum, { replace }) => sum + replace.length, 0),
      },
    ])
    expect(PartsList.parse((await manager('GET', '/v1/desk/parts?until=2026-08-01')).body).lifts).toHaveLength(1)
  })
})

describe('files for a spreadsheet', () => {
  it('hold each table, and no text that would be computed', async () => {
    const boats = await csv('/v1/desk/boats.csv?sort=boat')
    const lines = boats.split('\r\n')
    expect(lines[0]).toBe(
      '\uFEFFboat,berth,pontoon,anodes,anode_due_first,position,alloy,consumed,threshold,due_earliest,due_expected,' +
        'due_latest,replace_by,next_haul_out,planned,risk,open_findings',
    )
    expect(lines).toHaveLength(16)
    expect(boats).toContain(`"'=HYPERLINK(""x"")",N2,North,1,saildrive 1`)
    const others = [
      await csv('/v1/desk/calendar.csv'),
      await csv('/v1/desk/depletion.csv'),
      await csv('/v1/desk/comparisons.csv?by=pontoon'),
      await csv('/v1/desk/parts.csv'),
      await csv('/v1/desk/lift-plan.csv', { days: [{ on: '2026-07-01' }] }),
    ]
    for (const text of [boats, ...others]) {
      expect(text.split('\r\n').length).toBeGreaterThan(2)
      expect(text).not.toMatch(/(^|[,\r\n])"?[=+@]/)
    }
  })
})

describe('saved views', () => {
  it('are kept by each person for themselves, one of them first', async () => {
    const made = await manager('POST', '/v1/desk/views', {
      name: 'North zinc',
      query: 'pontoon=North&alloy=zinc',
      isDefault: true,
    })
    expect(made.status).toBe(201)
    const second = await manager('POST', '/v1/desk/views', { name: 'Risky', query: 'riskAbove=0.5', isDefault: true })
    const { items } = (await manager('GET', '/v1/desk/views')).body
    expect(items.map(({ name, isDefault }: { name: string; isDefault: boolean }) => [name, isDefault])).toEqual([
      ['North zinc', false],
      ['Risky', true],
    ])
    expect((await staff('GET', '/v1/desk/views')).body.items).toEqual([])
    const url = `/v1/desk/views/${second.body.id}`
    expect((await staff('PATCH', url, { name: 'Mine' }, { 'if-match': second.etag })).status).toBe(404)
    const renamed = await manager('PATCH', url, { name: 'High risk' }, { 'if-match': second.etag })
    expect([renamed.status, renamed.body.name, renamed.body.query]).toEqual([200, 'High risk', 'riskAbove=0.5'])
    expect((await manager('PATCH', url, { name: 'Late' }, { 'if-match': second.etag })).status).toBe(412)
    expect((await manager('PATCH', url, { name: 'North zinc' }, { 'if-match': renamed.etag })).status).toBe(409)
    expect((await manager('PATCH', url, { name: 'Bare' })).status).toBe(428)
    expect((await manager('DELETE', url, undefined, { 'if-match': renamed.etag })).status).toBe(204)
    expect((await manager('GET', '/v1/desk/views')).body.items).toHaveLength(1)
  })

  it('leave the forecasts as fresh as they were', async () => {
    const revision = () => dataRevision(server.database.db, server.organisationId)
    const before = await revision()
    await manager('POST', '/v1/desk/views', { name: 'Another', query: '' })
    expect(await revision()).toBe(before)
  })
})
