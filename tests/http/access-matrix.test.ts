import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { GuardedRoute } from '../../src/http/auth/guard-routes.js'
import { isPermitted } from '../../src/http/auth/permissions.js'
import { CHANGES, segmentsOf } from './access-matrix/entries.js'
import { hashesOf, idsOf } from './access-matrix/kept-rows.js'
import { type Answered, ask, changeOf, hasName, type Place, placesOf, type Whose } from './access-matrix/tried.js'
import { ACTORS, type ActorName, fillYard, type Resource, TODAY, type Yard } from './access-matrix/two-yards.js'
import { startTestServer, type TestServer } from './server.js'

const NOBODY = 'nobody'
/** Readings that wait for the database side by side. */
const AT_ONCE = 8
type Asker = ActorName | typeof NOBODY

/** What hangs on a boat: an owner finds their own boat's. */
const OF_A_BOAT: readonly Resource[] = [
  'boat',
  'stay',
  'fitting',
  'position',
  'potential',
  'reading',
  'anode',
  'weighing',
  'haulOut',
  'photo',
  'finding',
]
/** What is one person's, whatever the role of another. */
const OF_A_PERSON: Partial<Record<Resource, ActorName>> = {
  feed: 'owner',
  session: 'owner',
  passkey: 'owner',
  view: 'manager',
}

let server: TestServer
let own: Yard
let foreign: Yard
let foreignIds: Set<string>
let hashesBefore: Record<string, string>
let routes: GuardedRoute[]
let places: Map<GuardedRoute, Place[]>
let documented: Record<string, Record<string, { parameters?: { in: string; name: string }[] }>>

beforeAll(async () => {
  server = await startTestServer({ now: () => new Date(`${TODAY}T10:00:00Z`) })
  own = await fillYard(server, 'Sandpiper')
  foreign = await fillYard(server, 'Turnstone')
  documented = (await server.app.inject('/v1/openapi.json')).json().paths
  routes = server.app.guardedRoutes.filter(({ method }) => method !== 'HEAD')
  places = new Map()
  for (const route of routes) places.set(route, await placesOf(route, queriesOf(route)))
  foreignIds = await idsOf(server.database, foreign.organisationId)
}, 120_000)
afterAll(() => server.close())

function operationOf({ method, url }: GuardedRoute) {
  return documented[url.replaceAll(/:(\w+)/g, '{$1}')]?.[method.toLowerCase()]
}

function queriesOf(route: GuardedRoute): string[] {
  return (operationOf(route)?.parameters ?? []).filter((one) => one.in === 'query').map(({ name }) => name)
}

const roleOf = (asker: ActorName) =>
  asker.includes('owner') ? 'owner' : (asker.replace(/^key of (an? )?/, '') as 'administrator' | 'manager' | 'staff')

/** What the asker is to be told about things of their own yard. */
function expected(asker: Asker, route: GuardedRoute): 'in' | 401 | 403 | 404 {
  if (route.permission !== 'open') {
    if (asker === NOBODY) return 401
    if (!isPermitted(roleOf(asker), route.permission)) return 403
  }
  const { refusesKeys, findsNothing } = changeOf(route) ?? {}
  if (refusesKeys !== undefined && asker.startsWith('key')) return refusesKeys
  if (findsNothing) return 404
  const inPath = places.get(route)!.filter((place) => place.in === 'path')
  return inPath.every(({ resource }) => isSeen(resource, asker)) ? 'in' : 404
}

function isSeen(resource: Resource, asker: Asker): boolean {
  if (asker === 'owner of another boat' && OF_A_BOAT.includes(resource)) return false
  const holder = OF_A_PERSON[resource]
  return holder === undefined || holder === asker
}

const outcomeOf = ({ status }: Answered) => (status === 401 || status === 403 || status === 404 ? status : 'in')

/** Each place of a request in turn, and all that its path names at once. The words of queries are those of the role: its key tries them. */
function combinations(asker: Asker, route: GuardedRoute): Place[][] {
  const isTriedByKey = (['administrator', 'manager', 'staff'] as Asker[]).includes(asker)
  const all = places.get(route)!.filter((place) => place.in !== 'query' || !isTriedByKey)
  const inPath = all.filter((place) => place.in === 'path')
  return [...all.map((place) => [place]), ...(inPath.length > 1 ? [inPath] : [])]
}

function leaks({ seen }: Answered): string[] {
  const ids = seen.match(/[\da-f]{8}-[\da-f]{4}-[\da-f-]{22}/g)?.filter((id) => foreignIds.has(id)) ?? []
  return [...ids, ...(seen.toLowerCase().includes(foreign.word.toLowerCase()) ? [foreign.word] : [])]
}

/** All that goes wrong where one asker tries one route. */
async function faultsOf(asker: Asker, route: GuardedRoute): Promise<string[]> {
  const faults: string[] = []
  const credentials = asker === NOBODY ? {} : own.credentials[asker]
  const at = places.get(route)!
  const tell = (what: string) => faults.push(`${route.method} ${route.url}, ${what}`)
  const send = async (named: readonly Place[], whose: Whose): Promise<Answered> => {
    const answer = await ask({
      server,
      route,
      yards: { own, foreign },
      places: at,
      whose: new Map(named.map((place) => [place, whose])),
      credentials,
    })
    if (answer.status >= 500) tell(`${whose}: ${answer.seen}`)
    for (const leak of leaks(answer)) tell(`${whose}: tells ${leak} of the other yard`)
    return answer
  }
  const wanted = expected(asker, route)
  if (!endsWhatIsTheirs(asker, route)) {
    const answer = await send([], 'own')
    if (outcomeOf(answer) !== wanted) tell(`own: ${answer.seen} instead of ${wanted}`)
    if (asker === 'owner of another boat') {
      const theirs = OF_A_BOAT.filter((resource) => answer.seen.includes(own.things[resource][0]))
      if (theirs.length > 0 && route.method === 'GET' && at.every((place) => place.in === 'query'))
        tell(`own: tells ${theirs.join()} of another owner's boat`)
    }
  }
  // Who may not ask at all is turned away before anything is looked for: one try shows it.
  const tries = combinations(asker, route).slice(0, wanted === 401 || wanted === 403 ? 1 : undefined)
  for (const named of tries) {
    const byName = named.every((place) => hasName(place, own))
    for (const suffix of byName ? (['', ' by name'] as const) : ([''] as const)) {
      const theirs = await send(named, `foreign${suffix}`)
      const nobodys = await send(named, `nobody’s${suffix}`)
      const where = named.map(({ in: place, resource }) => `${resource} in the ${place}`).join(' and ')
      if (theirs.seen !== nobodys.seen) tell(`${where}${suffix}: foreign ${theirs.seen}\nnobody’s ${nobodys.seen}`)
      const refused = wanted === 'in' ? 404 : wanted
      if (named[0]!.in === 'path' && theirs.status !== refused) tell(`${where}: ${theirs.seen} instead of ${refused}`)
    }
  }
  return faults
}

/** Signing out would leave nobody to go on asking. */
function endsWhatIsTheirs(asker: Asker, route: GuardedRoute): boolean {
  if (changeOf(route)?.ends !== true) return false
  return places.get(route)!.length === 0 || expected(asker, route) === 'in'
}

describe('what is tried', () => {
  it('is every route under /v1, as the document of the API has them', () => {
    const operations = Object.entries(documented).flatMap(([path, methods]) =>
      Object.keys(methods).map((method) => `${method.toUpperCase()} ${path}`),
    )
    const tried = routes.map(({ method, url }) => `${method} ${url.replaceAll(/:(\w+)/g, '{$1}')}`)
    expect(operations.filter((operation) => operation.includes(' /v1/') && !tried.includes(operation))).toEqual([])
    expect(tried.filter((one) => !operations.includes(one))).toEqual(['GET /v1/openapi.json'])
  })

  it('has no entry for a route that is gone', () => {
    const there = new Set(routes.map(({ method, url }) => `${method} ${url}`))
    expect(Object.keys(CHANGES).filter((entry) => !there.has(entry))).toEqual([])
  })

  it('does not forget a new route or a new parameter', () => {
    const route = (method: string, url: string) => ({ method, url, permission: 'fleet:read' as const })
    expect(() => changeOf(route('POST', '/v1/forgotten'))).toThrow('is not in tests/http/access-matrix/entries.ts')
    expect(() => segmentsOf('/v1/forgotten/:thing')).toThrow('what is :thing about?')
  })

  it('has each GET answer HEAD by the same door', () => {
    const doors = (wanted: string) =>
      server.app.guardedRoutes
        .filter(({ method }) => method === wanted)
        .map(({ url, permission }) => `${url} ${permission}`)
        .sort()
    expect(doors('HEAD')).toEqual(doors('GET'))
  })

  it('are things that are there, in both yards alike', async () => {
    const missing: string[] = []
    for (const [yard, other] of [
      [own, foreign],
      [foreign, own],
    ] as const) {
      for (const route of routes.filter(({ method, permission }) => method === 'GET' && permission !== 'open')) {
        const holder = places
          .get(route)!
          .flatMap(({ in: place, resource }) => (place === 'path' && OF_A_PERSON[resource]) || [])
        const credentials = yard.credentials[holder[0] ?? 'key of an administrator']
        const answer = await ask({
          server,
          route,
          yards: { own: yard, foreign: other },
          places: places.get(route)!,
          whose: new Map(),
          credentials,
        })
        if (answer.status !== 200) missing.push(`${yard.word} ${route.url}: ${answer.seen}`)
      }
    }
    expect(missing).toEqual([])
    hashesBefore = await hashesOf(server.database, foreign.organisationId, `@${foreign.word.toLowerCase()}.example`)
  })
})

/** Hundreds of requests one after the other, on a machine that does other work too. */
const LIMIT_MS = 300_000

describe('every route, tried with own, foreign and nobody’s ids', { timeout: LIMIT_MS }, () => {
  it.each([...ACTORS, NOBODY] as const)('by %s', async (asker) => {
    const faults: string[] = []
    // Whoever has signed in is not asked for by an open route.
    const asked = routes.filter(({ permission }) => permission !== 'open' || asker === NOBODY)
    const [readings, changes] = [
      asked.filter(({ method }) => method === 'GET'),
      asked.filter(({ method }) => method !== 'GET'),
    ]
    for (let done = 0; done < readings.length; done += AT_ONCE) {
      const some = readings.slice(done, done + AT_ONCE)
      faults.push(...(await Promise.all(some.map((route) => faultsOf(asker, route)))).flat())
    }
    for (const route of changes) faults.push(...(await faultsOf(asker, route)))
    expect(faults).toEqual([])
  })

  it('has another yard’s organisation in the header taken for one that is nowhere', async () => {
    for (const asker of ACTORS) {
      const as = (organisation: string) =>
        server.app.inject({ url: '/v1/me', headers: { ...own.credentials[asker], 'x-organisation': organisation } })
      const theirs = await as(foreign.organisationId)
      const nobodys = await as('00000000-0000-4000-8000-000000000000')
      expect([theirs.statusCode, theirs.body]).toEqual([nobodys.statusCode, nobodys.body])
      expect(theirs.body).not.toContain(foreign.word)
    }
  })

  it('has left every row of the other yard as it was', async () => {
    const hashes = await hashesOf(server.database, foreign.organisationId, `@${foreign.word.toLowerCase()}.example`)
    expect(Object.keys(hashes).length).toBeGreaterThan(30)
    expect(hashes).toEqual(hashesBefore)
  })
})
