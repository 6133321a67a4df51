import { encodeForm, spoilt } from './forms.js'
import type { KnownThings } from './known.js'
import type { Mutation, Plan, PlannedBody } from './plans.js'

/** A request as it is sent. */
export interface WireRequest {
  readonly method: string
  readonly url: string
  readonly headers: Record<string, string>
  readonly payload: string | Buffer | undefined
}

const BOUNDARY = 'fuzz-boundary-7d1f'
/** Longer addresses are cut: what a server takes of a request's head is bounded (Node: 16 KiB, HTTP 431). */
const LONGEST_URL = 12_000

/** Chooses the things in a plan, makes its mutation, writes it down. */
export function toWire(plan: Plan, things: KnownThings): WireRequest {
  const filled = {
    path: things.fill(plan.path) as Record<string, unknown>,
    query: things.fill(plan.query) as Record<string, unknown>,
    headers: things.fill(plan.headers) as Record<string, string>,
    body: plan.body && fillBody(plan.body, things),
  }
  const { path, query, headers, body } = plan.mutation ? mutate(filled, plan.mutation) : filled
  const search = searchOf(query)
  const url = `${pathOf(plan, path)}${search && `?${search}`}`.slice(0, LONGEST_URL).replace(/%.?$/, '')
  const written = body && write(body)
  const typed = written && plan.method !== 'GET' ? { 'content-type': written.mediaType } : {}
  const own = Object.fromEntries(Object.entries(headers).map(([name, value]) => [name, asHeader(String(value))]))
  return { method: plan.method, url, headers: { ...typed, ...own }, payload: written?.payload }
}

interface Filled {
  readonly path: Record<string, unknown>
  readonly query: Record<string, unknown>
  readonly headers: Record<string, string>
  readonly body: PlannedBody | undefined
}

function mutate(request: Filled, mutation: Mutation): Filled {
  const { part, how, where, value } = mutation
  if (part === 'headers') return { ...request, headers: { ...request.headers, ...mutation.headers } }
  if (part === 'body' && request.body) return { ...request, body: mutateBody(request.body, mutation) }
  const target = part === 'path' ? 'path' : 'query'
  const names = Object.keys(request[target])
  const name = names[Math.floor(where * names.length)]
  const { [name ?? '']: old, ...rest } = request[target]
  if (target === 'path') return { ...request, path: { ...request.path, ...(name && { [name]: value }) } }
  if (name === undefined || how === 'add') return { ...request, query: { ...request.query, unheardOf: value } }
  if (how === 'drop') return { ...request, query: rest }
  return { ...request, query: { ...rest, [name]: how === 'repeat' ? [old, old] : value } }
}

function mutateBody(body: PlannedBody, { how, where, value }: Mutation): PlannedBody {
  if (body.kind === 'json') return { kind: 'json', value: mutateJson(body.value, { how, where, value }) }
  if (body.kind === 'text') return { ...body, text: body.text.slice(0, Math.floor(where * body.text.length)) }
  return { ...body, parts: spoilt(body.parts, Math.floor(where * 10), (where * 7) % 1, String(value)) }
}

type JsonMutation = Pick<Mutation, 'how' | 'where' | 'value'>

/** One place of the whole tree is replaced, dropped, joined by a member nobody knows, or sent twice. */
function mutateJson(json: unknown, { how, where, value }: JsonMutation): unknown {
  const places = placesIn(json)
  const place = places[Math.floor(where * places.length)]
  const copy = structuredClone(json)
  if (place === undefined || place.length === 0) return how === 'add' ? withMember(copy, value) : value
  const holder = place.slice(0, -1).reduce<unknown>((at, step) => (at as Record<string, unknown>)[step], copy)
  const members = holder as Record<string, unknown>
  const last = place.at(-1) ?? ''
  if (Array.isArray(holder) && how === 'repeat') holder.push(holder[Number(last)])
  else if (how === 'drop' && !Array.isArray(holder)) delete members[last]
  else if (how === 'add') members[last] = withMember(members[last], value)
  else members[last] = value
  return copy
}

function withMember(json: unknown, value: unknown): unknown {
  return typeof json === 'object' && json !== null && !Array.isArray(json) ? { ...json, unheardOf: value } : value
}

function placesIn(json: unknown, before: readonly string[] = []): string[][] {
  const here = [[...before]]
  if (typeof json !== 'object' || json === null) return here
  return [...here, ...Object.entries(json).flatMap(([step, value]) => placesIn(value, [...before, step]))]
}

function pathOf({ operation, rawStep }: Plan, values: Readonly<Record<string, unknown>>): string {
  const path = operation.path.replaceAll(/\{(\w+)\}/g, (_all, name: string) => encode(asText(values[name])))
  return rawStep === undefined ? path : path.replace(/[^/]*$/, rawStep)
}

function searchOf(query: Readonly<Record<string, unknown>>): string {
  return Object.entries(query)
    .flatMap(([name, value]) =>
      (Array.isArray(value) ? value : [value]).map((one) => `${encode(name)}=${encode(asText(one))}`),
    )
    .join('&')
}

function asText(value: unknown): string {
  return typeof value === 'object' ? JSON.stringify(value) : String(value)
}

/** Halves of pairs cannot be written in UTF-8: they become U+FFFD. */
function encode(text: string): string {
  return encodeURIComponent(Buffer.from(text.slice(0, LONGEST_URL)).toString('utf8'))
}

/** Node's own client refuses to send other characters (RFC 9110, 5.5). */
function asHeader(text: string): string {
  return text.replaceAll(/[^\t\x20-\x7e\x80-\xff]/g, '?')
}

function fillBody(body: PlannedBody, things: KnownThings): PlannedBody {
  if (body.kind === 'json') return { kind: 'json', value: things.fill(body.value) }
  if (body.kind === 'text') return body
  const parts = body.parts.map((part) =>
    Array.isArray(part.content) ? { ...part, content: things.fill(part.content) as unknown[][] } : part,
  )
  return { kind: 'form', parts }
}

function write(body: PlannedBody): { payload: string | Buffer; mediaType: string } {
  switch (body.kind) {
    case 'json':
      return { payload: JSON.stringify(body.value) ?? '', mediaType: 'application/json' }
    case 'text':
      return { payload: body.text, mediaType: body.mediaType }
    case 'form':
      return { payload: encodeForm(body.parts, BOUNDARY), mediaType: `multipart/form-data; boundary=${BOUNDARY}` }
  }
}
