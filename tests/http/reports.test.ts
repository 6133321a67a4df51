import { writeFileSync } from 'node:fs'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { DepletionView } from '../../src/contract/forecasts.js'
import { GalvanicAuditView } from '../../src/contract/galvanic.js'
import { HaulOutDetail, HaulOutPage } from '../../src/contract/haul-outs.js'
import { LANGUAGES } from '../../src/messages/languages.js'
import { capital, PaperWords } from '../../src/outside/paper/paper-words.js'
import { nextLiftOf } from '../../src/presentation/next-lift.js'
import { FittedFleets } from '../../src/services/model/fitted-fleets.js'
import { RefitService } from '../../src/services/model/refit.js'
import { type ReadPdf, readPdf } from '../outside/read-pdf.js'
import { type Ask, askAs } from './ask.js'
import { startTestServer, type TestServer } from './server.js'
import { fleetFiles, importFleet } from './small-fleet.js'

const words = new PaperWords({ language: 'en', massUnit: null })
const sayDay = (day: string) => words.day(day)
const sayMass = (grams: number) => words.mass(grams)
const sayPercent = (share: number) => words.percent(share)

const now = new Date('2026-06-15T10:00:00Z')
/** Letters of Hebrew and Arabic, a picture joined of several, one with a skin tone. */
const ODD_NAME = 'שלום ים 👩‍🚀 زورق 🚤'

let server: TestServer
let manager: Ask
let owner: Ask

beforeAll(async () => {
  server = await startTestServer({ now: () => now })
  manager = askAs(server, await server.actorOf('manager'))
  owner = askAs(server, await server.actorOf('owner'))
  await importFleet(server, { ...fleetFiles(server.ownerEmail), ...METALS })
  const weighings = [
    {
      anode: 'shaft 3',
      massG: 640,
      conditions: ['pitted', 'bright'],
      replacedBy: { alloy: 'zinc', grossMassG: 1250, coreMassG: 80 },
    },
    { anode: 'hull 3', method: 'visual', wastedPercent: 30 },
  ]
  const lift = await manager('POST', '/v1/boats/Boat%20A/haul-outs', {
    hauledOn: '2026-06-10',
    relaunchedOn: '2026-06-11',
    weighings,
  })
  expect(lift.status, JSON.stringify(lift.body)).toBe(201)
  expect((await manager('POST', '/v1/boats', { name: ODD_NAME, ownerName: 'עדה אבן', hull: 'wood' })).status).toBe(201)
  await new RefitService(server.database.service, new FittedFleets(), () => now, 0).refit(
    server.organisationId,
    async () => {},
  )
}, 120_000)
afterAll(() => server.close())

const METALS = {
  'fittings.csv': [
    'boat,fitting,metal,area_cm2,coated,bonded',
    'Boat A,propeller,manganese-bronze,1450,no,yes',
    'Boat A,shaft,stainless-316-passive,1900,no,yes',
    '',
  ].join('\n'),
}

async function pdfOf(boat: string, query = ''): Promise<{ pdf: ReadPdf; disposition: string; bytes: Buffer }> {
  const url = `/v1/boats/${encodeURIComponent(boat)}/report.pdf${query}`
  const answer = await server.app.inject({ method: 'GET', url, headers: await server.actorOf('manager') })
  expect(answer.statusCode, answer.body.slice(0, 300)).toBe(200)
  expect(answer.headers['content-type']).toBe('application/pdf')
  const bytes = answer.rawPayload
  return { pdf: await readPdf(bytes), disposition: String(answer.headers['content-disposition']), bytes }
}

async function answersOf(boat: string) {
  const path = `/v1/boats/${encodeURIComponent(boat)}`
  const depletion = DepletionView.parse((await manager('GET', `${path}/depletion`)).body)
  const audit = GalvanicAuditView.parse((await manager('GET', `${path}/galvanic-audit`)).body)
  const haulOuts = HaulOutPage.parse((await manager('GET', `${path}/haul-outs?sort=-hauledOn`)).body).items
  return { depletion, audit, haulOuts }
}

describe('the report of a haul-out', () => {
  it('has two pages with the figures of the lift as the service answers them', async () => {
    const { pdf, disposition, bytes } = await pdfOf('Boat A')
    if (process.env.REPORT_FILE) writeFileSync(process.env.REPORT_FILE, bytes)
    expect(pdf.pages).toHaveLength(2)
    expect(disposition).toBe(
      `inline; filename="haul-out Boat A 2026-06-10.pdf"; filename*=UTF-8''haul-out%20Boat%20A%202026-06-10.pdf`,
    )
    const { haulOuts } = await answersOf('Boat A')
    const latest = haulOuts.find(({ hauledOn }) => hauledOn <= '2026-06-15')!
    const lift = HaulOutDetail.parse((await manager('GET', `/v1/haul-outs/${latest.id}`)).body)
    const [page] = pdf.pages
    expect(page).toContain(`Hauled | ${sayDay(lift.hauledOn)}`)
    expect(page).toContain(`Relaunched | ${sayDay(lift.relaunchedOn!)}`)
    expect(page).toContain('Berth | N1, salt water')
    const shaft = lift.weighings.find(({ anode }) => anode === 'shaft 3')!
    const found = [sayMass(shaft.massG!), sayPercent(shaft.consumedFraction!), 'bright metal, metal pitted']
    const row = page!.slice(page!.indexOf('shaft 3'))
    // Fitted at 1,080 g, weighed at 605 g on 20 March by the fleet's files.
    expect(row).toMatch(/^shaft 3 \| shaft \| zinc \| 1\.08 kg \| /)
    expect(row).toContain(found[0])
    expect(row).toContain(found[1])
    expect(row).toContain(lift.replaced[0]!.by)
    expect(page).toMatch(/hull 3 .*by eye \| 30 % /)
    expect(page).toContain('can sink the boat')
  })

  it('tells dates, risks, the order and the worst pair of metals as the service answers them, beside the plots', async () => {
    const { pdf } = await pdfOf('Boat A')
    const { depletion, audit } = await answersOf('Boat A')
    const page = pdf.pages[1]!
    const inPlace = depletion.anodes.filter(({ removedOn }) => removedOn === null)
    expect(inPlace.length).toBe(2)
    for (const { anode, forecast } of inPlace) {
      const { replace, recommendedOn, asOf, massNow, riskBeforeNextHaulOut } = forecast!
      const row = page.slice(page.lastIndexOf(`${anode} | ${recommendedOn! <= asOf ? 'now' : sayDay(recommendedOn!)}`))
      expect(row).toContain(`${sayDay(replace.p50!)} | ${sayDay(replace.p05!)} – ${sayDay(replace.p95!)}`)
      expect(row).toContain(`${sayMass(massNow.p50)} | ${sayPercent(riskBeforeNextHaulOut)}`)
    }
    const order = nextLiftOf(depletion)!
    expect(order.parts.length).toBeGreaterThan(0)
    for (const { count, alloy } of order.parts) expect(page).toContain(`${count} × ${alloy}`)
    expect(page).toContain(`Next lift ${sayDay('2026-09-01')}, the following one ${sayDay('2027-09-01')} (assumed)`)
    const { grade, reason } = audit.pairs[0]!
    expect(page.replaceAll(' | ', ' ')).toContain(
      `${capital(grade)}: manganese bronze with stainless steel 316, 317 passive. ${reason.slice(0, 40)}`,
    )
    expect(page).toContain('A measuring aid, not a survey.')
    expect(page).toContain('2026-06-15 10:00 UTC')
    // Two plots of a dozen paths and more each, drawn as lines and not as a picture.
    expect(pdf.drawn[1]).toBeGreaterThan(40)
  })

  it('prints names in any script, with embedded typefaces, and is saved under them', async () => {
    const { pdf, disposition } = await pdfOf(ODD_NAME)
    expect(pdf.pages).toHaveLength(2)
    expect(pdf.title).toContain('שלום')
    expect(pdf.fonts.filter((name) => name.includes('DejaVu')).length).toBeGreaterThanOrEqual(2)
    expect(pdf.pages[0]).toContain('Owner')
    expect(pdf.pages[0]).toContain('no haul-out on record')
    expect(disposition).toContain(`filename*=UTF-8''haul-out%20${encodeURIComponent('שלום')}`)
    expect(disposition).toMatch(/^[\x20-\x7e]+$/)
  })

  it.each(LANGUAGES)('is written in %s whole, but for the names', async (language) => {
    const { pdf } = await pdfOf('Boat A', `?language=${language}`)
    const said = pdf.pages.join(' ')
    expect(said).not.toMatch(/\{\{|\b(fact|column|dates|order|basis|finding|cause|check|who|began|method)\.\w/)
    const spoken = new PaperWords({ language, massUnit: null })
    for (const key of ['title', 'column.replaceBy', 'order.heading', 'basis.heading', 'caution'] as const)
      expect(said.replaceAll(' | ', ' ')).toContain(spoken.t(key))
    if (language !== 'en') {
      expect(said).not.toMatch(/\b(the|not|with|since|by|wastes?)\b/)
    }
  })

  it('is of the haul-out that is asked for, and of no other boat’s', async () => {
    const { haulOuts } = await answersOf('Boat A')
    const planned = haulOuts.find(({ hauledOn }) => hauledOn === '2026-09-01')!
    const { pdf } = await pdfOf('Boat A', `?haulOut=${planned.id}`)
    expect(pdf.pages[0]).toContain('1 Sept 2026, planned')
    expect(pdf.pages[0]).toContain('not weighed')
    expect((await manager('GET', `/v1/boats/Boat%20B/report.pdf?haulOut=${planned.id}`)).status).toBe(404)
    expect((await manager('GET', '/v1/boats/Boat%20B/report.pdf?haulOut=none')).status).toBe(400)
  })

  it('is given to owners of their own boats alone', async () => {
    const own = await server.app.inject({
      url: '/v1/boats/Boat%20A/report.pdf',
      headers: await server.actorOf('owner'),
    })
    expect(own.statusCode).toBe(200)
    expect((await owner('GET', '/v1/boats/Boat%20B/report.pdf')).status).toBe(404)
    expect((await server.app.inject({ url: '/v1/boats/Boat%20A/report.pdf' })).statusCode).toBe(401)
  })

  it('stays on two pages however many anodes a boat has', async () => {
    const rows = Array.from(
      { length: 40 },
      (_, index) => `Boat C,extra ${index + 1},hull ${index + 1},zinc,2025-04-02,,1080,80`,
    )
    const head = 'boat,anode,position,alloy,fitted_on,removed_on,gross_mass_g,core_mass_g'
    await importFleet(server, { 'anodes.csv': `${[head, ...rows].join('\n')}\n` })
    const { pdf } = await pdfOf('Boat C')
    expect(pdf.pages).toHaveLength(2)
    expect(pdf.pages[0]).toContain('more: see the boat’s page')
    expect(pdf.pages[1]).toContain('more: see the boat’s page')
  })
})
