import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { GalvanicAuditView } from '../../src/contract/galvanic.js'
import { type Ask, askAs } from './ask.js'
import { startTestServer, type TestServer } from './server.js'
import { importFleet } from './small-fleet.js'

let server: TestServer
let staff: Ask
let owner: Ask

const FILES = (ownerEmail: string) => ({
  'berths.csv': 'berth,water\nA1,salt\nR1,fresh\n',
  'boats.csv': `boat,owner_name,owner_email,hull\nWren,Somebody,${ownerEmail},grp\nRobin,Other,other@example.org,\n`,
  'stays.csv': 'boat,from,to,berth\nWren,2030-04-01,2031-02-01,A1\nWren,2031-02-01,,\nRobin,2030-04-01,2031-04-01,R1\n',
  'fittings.csv': [
    'boat,fitting,metal,area_cm2,coated,bonded',
    'Wren,propeller,manganese-bronze,1450,no,yes',
    'Wren,shaft,stainless-316-passive,1900,no,yes',
    'Wren,strut,manganese-bronze,550,no,yes',
    'Wren,skin fitting,silicon-bronze,180,no,no',
    'Robin,rudder,mild-steel,,yes,',
    '',
  ].join('\n'),
  'anodes.csv': [
    'boat,anode,position,alloy,fitted_on,removed_on,gross_mass_g,core_mass_g,bonded',
    'Wren,shaft 1,shaft,magnesium,2029-04-01,2030-04-01,900,0,yes',
    'Wren,shaft 2,shaft,zinc,2030-04-01,,900,0,yes',
    '',
  ].join('\n'),
  'potentials.csv': [
    'boat,measured_at,fitting,reference,volts,shore_power,circuits',
    'Wren,2030-05-01T09:00:00Z,propeller,ag-agcl-seawater,-0.41,disconnected,off',
    'Wren,2030-06-01T09:00:00Z,propeller,ag-agcl-seawater,-0.72,disconnected,off',
    'Wren,2030-06-01T09:00:00Z,,ag-agcl-seawater,0.82,disconnected,off',
    '',
  ].join('\n'),
  'continuity.csv': 'boat,measured_at,from,to,ohms\nWren,2030-06-01T09:10:00Z,strut,bond,35\n',
})

beforeAll(async () => {
  server = await startTestServer({ now: () => new Date('2031-06-15T12:00:00Z') })
  staff = askAs(server, await server.actorOf('staff'))
  owner = askAs(server, await server.actorOf('owner'))
  await importFleet(server, FILES(server.ownerEmail))
})
afterAll(() => server.close())

const audit = (boat: string, by: Ask = staff) => by('GET', `/v1/boats/${boat}/galvanic-audit`)

describe('the galvanic audit', () => {
  // Australasian Corrosion Association, flowing seawater: 316 passive −0.10 to 0, manganese bronze −0.34 to −0.26 V calomel.
  it('has the pairs of connected metals, with what the series and the areas say', async () => {
    const { status, body } = await audit('Wren')
    expect(status, JSON.stringify(body)).toBe(200)
    expect(GalvanicAuditView.parse(body)).toEqual(body)
    expect(body).toMatchObject({ boat: 'Wren', berth: 'A1', water: 'salt', hull: 'grp' })
    expect(body.pairs).toHaveLength(1)
    const [pair] = body.pairs
    expect(pair).toMatchObject({
      cathode: { metal: 'stainless-316-passive', fittings: ['shaft'], areaCm2: 1900 },
      anode: { metal: 'manganese-bronze', fittings: ['propeller', 'strut'], areaCm2: 2000 },
      connection: 'connected',
      areaRatio: 0.95,
      grade: 'fair',
    })
    expect(pair.deltaVolts.low).toBeCloseTo(0.16, 9)
    expect(pair.deltaVolts.high).toBeCloseTo(0.34, 9)
    expect(pair.whenFilmLost).toMatchObject([{ active: 'stainless-316-active', grade: 'compatible' }])
    expect(body.metals.map((metal: { connection: string }) => metal.connection)).toEqual([
      'connected',
      'connected',
      'alone',
    ])
  })

  it('judges the anodes in place, the latest potentials, and asks about what cannot be', async () => {
    const { body } = await audit('Wren')
    const fitted = body.protection.filter((each: { isFitted: boolean }) => each.isFitted)
    expect(fitted).toMatchObject([{ alloy: 'zinc', verdict: 'protects', suitsWater: 'yes' }])
    expect(body.overprotection).toMatchObject([{ alloy: 'zinc', hull: 'grp', verdict: 'within' }])
    const potentials = body.potentials.map(({ fitting, verdict }: { fitting: string; verdict: string }) => [
      fitting,
      verdict,
    ])
    expect(Object.fromEntries(potentials)).toEqual({ propeller: 'protected', null: 'not-judged' })
    expect(body.questions).toMatchObject([{ key: 'sign', about: null }])
    const notes = body.notes.map(({ key, fittings }: { key: string; fittings: string[] }) => [key, fittings])
    expect(Object.fromEntries(notes)).toEqual({
      'stainless-without-oxygen': ['shaft'],
      dezincification: ['propeller', 'strut'],
      'open-bond': ['strut'],
    })
    expect(body.sources.map(({ key }: { key: string }) => key)).toContain('aca-flowing-seawater')
  })

  it('asks where the record is empty, and grades nothing', async () => {
    const { body } = await audit('Robin')
    expect(body.pairs).toEqual([])
    expect(body.questions.map(({ key, about }: { key: string; about: string }) => [key, about])).toEqual([
      ['hull', null],
      ['no-anodes', null],
      ['area', 'rudder'],
      ['bonded', 'rudder'],
    ])
  })

  it("is an owner's for their own boats alone", async () => {
    expect((await audit('Wren', owner)).status).toBe(200)
    expect((await audit('Robin', owner)).status).toBe(404)
    expect((await audit('Nobody')).status).toBe(404)
  })
})

describe('the calculator of couples', () => {
  it('gives each pair over REST, by the names of the contract', async () => {
    const metals = [
      { metal: 'zinc', areaCm2: 50 },
      { metal: 'silicon-bronze', areaCm2: 1000 },
      { metal: 'mild-steel', areaCm2: 500 },
    ]
    const { status, body } = await staff('POST', '/v1/calculators/couple', { metals, water: 'salt' })
    expect(status).toBe(200)
    expect(body.pairs).toHaveLength(3)
    expect(body.pairs[0]).toMatchObject({
      cathode: { metal: 'silicon-bronze', areaCm2: 1000 },
      anode: { metal: 'zinc', areaCm2: 50 },
      areaRatio: 20,
      grade: 'severe',
      reason: expect.stringContaining('0.69 to 0.78 V'),
    })
  })

  it('refuses a metal that the series lacks, with those that come close, and an area of nothing', async () => {
    const ask = (metals: object[], water = 'salt') => staff('POST', '/v1/calculators/couple', { metals, water })
    const unknown = await ask([{ metal: 'bronze', areaCm2: 5 }, { metal: 'zinc' }])
    expect([unknown.status, unknown.body.errors[0].pointer]).toEqual([422, '#/metals/0/metal'])
    expect(unknown.body.errors[0].detail).toMatch(/close to it: .*silicon-bronze/)
    const empty = await ask([{ metal: 'zinc', areaCm2: 0 }, { metal: 'tin' }])
    expect(empty.body.errors[0].pointer).toBe('#/metals/0/areaCm2')
    expect((await ask([{ metal: 'zinc' }])).status).toBe(422)
    expect((await ask([{ metal: 'zinc' }, { metal: 'tin' }], 'sweet')).body.errors[0].pointer).toBe('#/water')
  })
})
