import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { RecordQuestionsView } from '../../src/contract/record-questions.js'
import { type Ask, askAs, basedOn } from './ask.js'
import { startTestServer, type TestServer } from './server.js'
import { importFleet } from './small-fleet.js'

let server: TestServer
let staff: Ask
let owner: Ask

const FILES = (ownerEmail: string) => ({
  'berths.csv': 'berth,water,salinity_psu\nA1,salt,34\nR1,fresh,31\n',
  'boats.csv': `boat,owner_name,owner_email,hull\nWren,Somebody,${ownerEmail},grp\nRobin,Other,other@example.org,\n`,
  'stays.csv': 'boat,from,to,berth\nWren,2030-04-01,,A1\nRobin,2030-04-01,,R1\n',
  'fittings.csv': 'boat,fitting,metal,area_cm2,coated,bonded\nWren,propeller,manganese-bronze,1450,no,yes\n',
  'anodes.csv': [
    'boat,anode,position,alloy,fitted_on,removed_on,gross_mass_g,core_mass_g,bonded',
    'Wren,shaft 1,shaft,zinc,2030-04-01,,900,0,yes',
    '',
  ].join('\n'),
  'weighings.csv': [
    'boat,anode,weighed_on,mass_g,resolution_g,cleaned,submerged_mass_g,submerged_in,condition',
    'Wren,shaft 1,2031-03-01,600,1,yes,480,salt,even;broken',
    '',
  ].join('\n'),
  'potentials.csv': [
    'boat,measured_at,fitting,reference,volts,shore_power,circuits',
    'Wren,2030-06-01T09:00:00Z,propeller,ag-agcl-seawater,0.92,disconnected,off',
    'Wren,2030-06-02T09:00:00Z,propeller,ag-agcl-seawater,-0.92,disconnected,off',
    '',
  ].join('\n'),
})

beforeAll(async () => {
  server = await startTestServer({ now: () => new Date('2031-06-15T12:00:00Z') })
  staff = askAs(server, await server.actorOf('staff'))
  owner = askAs(server, await server.actorOf('owner'))
  await importFleet(server, FILES(server.ownerEmail))
})
afterAll(() => server.close())

const questions = (boat: string, by: Ask = staff) => by('GET', `/v1/boats/${boat}/questions`)

describe('the questions of a boat', () => {
  it('are what its record says that cannot be, without any finding, the newest first', async () => {
    const { status, body } = await questions('Wren')
    expect(status, JSON.stringify(body)).toBe(200)
    expect(RecordQuestionsView.parse(body)).toEqual(body)
    expect(body.boat).toBe('Wren')
    expect(body.items.map(({ kind, about, on }: Record<string, string>) => [kind, about, on])).toEqual([
      ['look', 'shaft 1', '2031-03-01'],
      ['density', 'shaft 1', '2031-03-01'],
      ['potential', 'propeller', '2030-06-01'],
    ])
    expect((await staff('GET', '/v1/findings?boat=Wren')).body.items).toEqual([])
  })

  it('go away when the record is put right', async () => {
    const { body } = await staff('GET', '/v1/boats/Wren/potentials')
    const wrong = body.items.find(({ volts }: { volts: number }) => volts > 0)
    const path = `/v1/potentials/${wrong.id}`
    const put = await staff('PATCH', path, { volts: -wrong.volts }, basedOn(await staff('GET', path)))
    expect(put.status, JSON.stringify(put.body)).toBe(200)
    const kinds = (await questions('Wren')).body.items.map(({ kind }: { kind: string }) => kind)
    expect(kinds).toEqual(['look', 'density'])
  })

  it('name a berth whose water and salinity contradict each other', async () => {
    expect((await questions('Robin')).body.items).toMatchObject([{ kind: 'water', about: 'R1', on: null }])
  })

  it("are an owner's for their own boats alone", async () => {
    expect((await questions('Wren', owner)).status).toBe(200)
    expect((await questions('Robin', owner)).status).toBe(404)
    expect((await questions('Nobody')).status).toBe(404)
  })
})
