import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { expectProblem } from './problem-schema.js'
import { type Credentials, startTestServer, type TestServer } from './server.js'

let server: TestServer
beforeAll(async () => {
  server = await startTestServer()
})
afterAll(() => server.close())

const URL_OF_MINE = '/v1/me/preferences'
const read = (headers: Credentials) => server.app.inject({ url: URL_OF_MINE, headers })
const change = (headers: Credentials, payload: object) =>
  server.app.inject({ method: 'PATCH', url: URL_OF_MINE, headers, payload })

const NOTHING_CHOSEN = { language: null, massUnit: null, temperatureUnit: null, timeZone: null }

describe('the preferences of a person', () => {
  it('are empty until something is chosen, then keep each choice by itself', async () => {
    const headers = await server.signIn('staff@example.org')
    expect((await read(headers)).json()).toEqual(NOTHING_CHOSEN)
    const first = await change(headers, { language: 'de', massUnit: 'oz' })
    expect(first.statusCode).toBe(200)
    expect(first.json()).toEqual({ ...NOTHING_CHOSEN, language: 'de', massUnit: 'oz' })
    await change(headers, { temperatureUnit: 'F', timeZone: 'Europe/Berlin' })
    await change(headers, { massUnit: null })
    expect((await read(headers)).json()).toEqual({
      language: 'de',
      massUnit: null,
      temperatureUnit: 'F',
      timeZone: 'Europe/Berlin',
    })
    expect((await change(headers, {})).json()).toEqual((await read(headers)).json())
  })

  it('go with the person to every device, and to nobody else', async () => {
    await change(await server.signIn('manager@example.org'), { language: 'fr' })
    expect((await read(await server.signIn('manager@example.org'))).json()).toMatchObject({ language: 'fr' })
    expect((await read(await server.actorOf('owner'))).json()).toEqual(NOTHING_CHOSEN)
  })

  it('may be an owner’s too', async () => {
    const owner = await server.actorOf('owner')
    expect((await change(owner, { massUnit: 'lb' })).json()).toMatchObject({ massUnit: 'lb' })
    await change(owner, { massUnit: null })
  })

  it.each([
    [{ language: 'xx' }, '/language'],
    [{ massUnit: 'stone' }, '/massUnit'],
    [{ temperatureUnit: 'K' }, '/temperatureUnit'],
    [{ timeZone: 'Harbour/North' }, '/timeZone'],
    [{ colour: 'blue' }, '/colour'],
  ])('refuse %j at its field', async (payload, pointer) => {
    const { errors } = expectProblem(await change(await server.signIn('staff@example.org'), payload), 400)
    expect(errors?.map((error) => error.pointer)).toEqual([`#${pointer}`])
  })
})

describe('a key of a program', () => {
  it('reads the defaults and changes nothing', async () => {
    const key = await server.actorOf('administrator')
    const defaults = { language: 'en', massUnit: 'g', temperatureUnit: 'C', timeZone: 'UTC' }
    expect((await read(key)).json()).toEqual(defaults)
    expectProblem(await change(key, { language: 'de' }), 404)
    expect((await read(key)).json()).toEqual(defaults)
  })
})
