import type { GuardedRoute } from '../../../src/http/auth/guard-routes.js'
import type { Credentials, TestServer } from '../server.js'
import { CHANGES, type Change, FILTERS, segmentsOf } from './entries.js'
import type { Resource, Yard } from './two-yards.js'

/** Whose thing a request names: one's own yard's, another yard's, or what is nobody's; by its id or by the name that people gave it. */
export type Whose = 'own' | 'foreign' | 'nobody’s' | 'foreign by name' | 'nobody’s by name'

/** Where a request names a thing. */
export interface Place {
  readonly in: 'path' | 'body' | 'query'
  readonly resource: Resource
  /** The parameter of a query. */
  readonly parameter?: string
  /** Only the name that people gave it is taken there. */
  readonly by?: 'name' | undefined
}

export interface Answered {
  readonly status: number
  /** All that an asker can tell two answers apart by, without the names that they sent themselves. */
  readonly seen: string
}

interface Asked {
  readonly server: TestServer
  readonly route: GuardedRoute
  readonly yards: { readonly own: Yard; readonly foreign: Yard }
  readonly places: readonly Place[]
  /** By the place; what is not here is one's own, and no query is sent. */
  readonly whose: ReadonlyMap<Place, Whose>
  readonly credentials: Credentials
}

const NOBODYS_ID = '00000000-0000-4000-8000-000000000000'
const NOBODYS_NAME = 'Whimbrel Z'
const NOBODYS_LINK = 'A'.repeat(43)
const STALE = { 'if-match': '"999"' }
/** Not told apart by: the time, the request's own id, and the length, which is that of the names sent. */
const HEADERS_SEEN = ['content-type', 'cache-control', 'location', 'www-authenticate', 'etag', 'content-disposition']

/** @throws Error for a change that nobody has entered */
export function changeOf({ method, url }: GuardedRoute): Change | undefined {
  if (method === 'GET') return undefined
  const change = CHANGES[`${method} ${url}`]
  if (change === undefined) throw new Error(`${method} ${url} is not in tests/http/access-matrix/entries.ts`)
  return change
}

/**
 * Every place where requests to this route name a thing.
 *
 * @param queries names of the parameters of its query
 * @throws Error for what nobody has entered
 */
export async function placesOf(route: GuardedRoute, queries: readonly string[]): Promise<Place[]> {
  const inPath = segmentsOf(route.url).flatMap((segment) =>
    'resource' in segment ? [{ in: 'path' as const, resource: segment.resource }] : [],
  )
  const inBody: Place[] = []
  await changeOf(route)?.body((resource, by) => {
    inBody.push({ in: 'body', resource, by })
    return NOBODYS_ID
  })
  const inQuery = queries.flatMap((parameter) => {
    const resource = FILTERS[parameter]
    if (resource === undefined) throw new Error(`${route.url}: what does ?${parameter} name? Enter it in entries.ts`)
    return resource === 'names nothing' ? [] : [{ in: 'query' as const, resource, parameter }]
  })
  return [...inPath, ...inBody, ...inQuery]
}

/** Whether the thing at this place can be called by a name besides its id. */
export const hasName = ({ resource, by }: Place, yard: Yard) =>
  by === undefined && yard.things[resource][1] !== undefined

/** Sends one request and gives what was answered. */
export async function ask({ server, route, yards, places, whose, credentials }: Asked): Promise<Answered> {
  const sent = new Set<string>()
  const named = (place: Place): string => {
    const name = nameOf(place, whose.get(place) ?? 'own', yards)
    if (whose.has(place)) sent.add(name)
    return name
  }
  const inPath = places.filter((place) => place.in === 'path')
  const path = segmentsOf(route.url).map((segment) => {
    if ('text' in segment) return segment.text
    if ('link' in segment) return whose.size === 0 && places.length === 0 ? yards.own[segment.link] : NOBODYS_LINK
    return encodeURIComponent(named(inPath.shift()!))
  })
  const inBody = places.filter((place) => place.in === 'body')
  const change = changeOf(route)
  const body = await change?.body(() => named(inBody.shift()!))
  const query = places
    .filter((place) => place.in === 'query' && whose.has(place))
    .map((place) => `${place.parameter}=${encodeURIComponent(named(place))}`)
  const search = [...query, change?.query ?? []].flat().join('&')
  const answer = await server.app.inject({
    method: route.method as 'GET',
    url: `${path.join('/')}${search && `?${search}`}`,
    headers: { ...(route.method !== 'GET' && STALE), ...body?.headers, ...credentials },
    ...(body?.payload && { payload: body.payload }),
  })
  const headers = HEADERS_SEEN.flatMap((name) => (answer.headers[name] ? [`${name}: ${answer.headers[name]}`] : []))
  return {
    status: answer.statusCode,
    seen: withoutNames([String(answer.statusCode), ...headers, answer.body].join('\n'), sent),
  }
}

function nameOf({ resource, by }: Place, whose: Whose, { own, foreign }: Asked['yards']): string {
  const called = by === 'name' || whose.endsWith('by name') ? 1 : 0
  if (whose === 'own') return own.things[resource][called]!
  if (whose.startsWith('foreign')) return foreign.things[resource][called]!
  if (resource === 'ownerEmail') return 'nobody@example.org'
  return called === 1 || resource === 'pontoon' ? NOBODYS_NAME : NOBODYS_ID
}

/** Longest first: a pontoon's name is the beginning of its berths'. */
function withoutNames(text: string, names: ReadonlySet<string>): string {
  return [...names]
    .flatMap((name) => [name, encodeURIComponent(name)])
    .sort((a, b) => b.length - a.length)
    .reduce((rest, name) => rest.replaceAll(name, '…'), text)
}
