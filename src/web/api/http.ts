import type { z } from 'zod'
import { problemWords } from '../i18n/problem-words.js'
import { refusalWords } from '../i18n/refusal-words.js'
import { noteServiceDate } from '../offline/service-clock.js'
import { OtherAnswer, Unreachable } from './problem.js'
import { type ProblemWords, problemFrom } from './problem-document.js'

/** Largest page the service gives: whole lists are fetched in as few requests as it allows. */
const PAGE_SIZE = 200

interface Sending {
  readonly body?: unknown
  readonly form?: FormData
  readonly idempotencyKey?: string
  /** The version that was read: refused where it is another by now. */
  readonly basedOn?: number
}

/** GETs one document and checks it against its schema. */
export async function read<Schema extends z.ZodType>(
  schema: Schema,
  path: string,
  signal?: AbortSignal,
): Promise<z.output<Schema>> {
  const response = await reach(path, { headers: { accept: 'application/json' }, signal: signal ?? null })
  return parsed(schema, await bodyOf(response))
}

/** GETs every page of a list. */
export async function readAll<Item>(
  page: z.ZodType<{ items: Item[]; nextCursor: string | null }>,
  path: string,
  signal?: AbortSignal,
): Promise<Item[]> {
  const items: Item[] = []
  let cursor: string | null = null
  do {
    const query = new URLSearchParams({ limit: String(PAGE_SIZE), ...(cursor === null ? {} : { cursor }) })
    const joined: string = `${path}${path.includes('?') ? '&' : '?'}${query}`
    const answer: { items: Item[]; nextCursor: string | null } = await read(page, joined, signal)
    items.push(...answer.items)
    cursor = answer.nextCursor
  } while (cursor !== null)
  return items
}

/** POSTs JSON or a form. Repeating it with the same key does nothing twice. */
export function send<Schema extends z.ZodType>(schema: Schema, path: string, sending: Sending) {
  return write('POST', schema, path, sending)
}

/** PATCHes what was read in a version; what only its owner changes has none. */
export function amend<Schema extends z.ZodType>(
  schema: Schema,
  path: string,
  sending: { readonly body: unknown; readonly basedOn?: number },
) {
  return write('PATCH', schema, path, sending)
}

/** PUTs a whole in the place of what was read in a version. */
export function replace<Schema extends z.ZodType>(
  schema: Schema,
  path: string,
  sending: { readonly body: unknown; readonly basedOn: number },
) {
  return write('PUT', schema, path, sending)
}

/** POSTs a question whose answer is a file. */
export async function readFile(path: string, body: unknown): Promise<Blob> {
  const headers = { 'content-type': 'application/json' }
  const response = await reach(path, { method: 'POST', headers, body: JSON.stringify(body) })
  if (!response.ok) await bodyOf(response)
  return response.blob()
}

/** DELETEs what was read in a version; what only its owner removes has none. */
export async function remove(path: string, basedOn?: number): Promise<void> {
  const headers = basedOn === undefined ? {} : { 'if-match': `"${basedOn}"` }
  await bodyOf(await reach(path, { method: 'DELETE', headers }))
}

async function write<Schema extends z.ZodType>(
  method: 'POST' | 'PUT' | 'PATCH',
  schema: Schema,
  path: string,
  { body, form, idempotencyKey, basedOn }: Sending,
): Promise<z.output<Schema>> {
  const response = await reach(path, {
    method,
    headers: {
      accept: 'application/json',
      ...(form === undefined ? { 'content-type': 'application/json' } : {}),
      ...(idempotencyKey === undefined ? {} : { 'idempotency-key': idempotencyKey }),
      ...(basedOn === undefined ? {} : { 'if-match': `"${basedOn}"` }),
    },
    body: form ?? JSON.stringify(body ?? {}),
  })
  return parsed(schema, await bodyOf(response))
}

function parsed<Schema extends z.ZodType>(schema: Schema, body: unknown): z.output<Schema> {
  const result = schema.safeParse(body)
  if (!result.success) throw new OtherAnswer(result.error)
  return result.data
}

async function reach(path: string, init: RequestInit): Promise<Response> {
  try {
    const response = await fetch(path, { credentials: 'same-origin', ...init })
    noteServiceDate(response.headers.get('date'), Date.now())
    return response
  } catch (error) {
    if (init.signal?.aborted) throw error
    throw new Unreachable(error)
  }
}

async function bodyOf(response: Response): Promise<unknown> {
  const text = await response.text()
  const body = text === '' ? undefined : parseJson(text)
  if (!response.ok) throw problemFrom(response.status, body, await ownWords())
  return body
}

async function ownWords(): Promise<ProblemWords> {
  const [sayProblem, sayRefusal] = await Promise.all([problemWords(), refusalWords()])
  return { sayProblem, sayRefusal }
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}
