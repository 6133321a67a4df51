import fc from 'fast-check'
import { type FormPart, formOf, hostileForm } from './forms.js'
import { hostileBody, hostileHeaders, hostileMediaType, hostileText, hostileValue } from './hostile-values.js'
import { Known } from './known.js'
import { type ApiDocument, collectionBefore, type Operation, operationsOf, type Parameter } from './operations.js'
import { pickOne, ValidValues } from './valid-values.js'

export const KINDS = ['valid', 'near-valid', 'hostile'] as const
export type Kind = (typeof KINDS)[number]

/** Who sends requests: programs by key, people by session, somebody of another organisation, nobody. */
export const ASKERS = [
  'administrator',
  'manager',
  'staff',
  'owner',
  'administrator in person',
  'staff in person',
  'foreigner',
  'nobody',
] as const
export type Asker = (typeof ASKERS)[number]

export type PlannedBody =
  | { readonly kind: 'json'; readonly value: unknown }
  | { readonly kind: 'form'; readonly parts: readonly FormPart[] }
  | { readonly kind: 'text'; readonly text: string; readonly mediaType: string }

/** What makes a near-valid request of a valid one. */
export interface Mutation {
  readonly part: 'body' | 'query' | 'path' | 'headers'
  readonly how: 'replace' | 'drop' | 'add' | 'repeat'
  /** Which member or parameter, from 0 up to 1. */
  readonly where: number
  readonly value: unknown
  readonly headers: Record<string, string>
}

/** A request before the things in it are chosen. */
export interface Plan {
  readonly operation: Operation
  readonly kind: Kind
  readonly asker: Asker
  readonly method: string
  readonly path: Record<string, unknown>
  /** Sent as it is, where it stands for a step of the path. */
  readonly rawStep: string | undefined
  readonly query: Record<string, unknown>
  readonly headers: Record<string, unknown>
  readonly body: PlannedBody | undefined
  readonly mutation: Mutation | undefined
  /** Sent to a listening port; the others are handed to the service within the process. */
  readonly overSocket: boolean
}

/** Requests to every operation of a document, half of them valid. */
export function plansFor(document: ApiDocument, pictures: readonly Buffer[]): fc.Arbitrary<Plan> {
  const values = new ValidValues(document)
  const plans = operationsOf(document).map((operation) => {
    const valid = validPlan(operation, values, pictures)
    return fc.oneof(
      { weight: 5, arbitrary: valid },
      { weight: 3, arbitrary: fc.tuple(valid, mutation).map(([plan, one]) => ({ ...plan, ...nearly(one) })) },
      { weight: 2, arbitrary: hostilePlan(operation) },
    )
  })
  return fc.oneof(...plans)
}

const nearly = (one: Mutation) => ({ kind: 'near-valid' as const, mutation: one })

const asker: fc.Arbitrary<Asker> = fc.oneof(
  { weight: 10, arbitrary: fc.constantFrom<Asker>('administrator', 'administrator', 'manager') },
  { weight: 5, arbitrary: fc.constantFrom(...ASKERS) },
)
const overSocket = fc.nat({ max: 9 }).map((one) => one === 0)

function validPlan(operation: Operation, values: ValidValues, pictures: readonly Buffer[]): fc.Arbitrary<Plan> {
  const within = (place: Parameter['in']) => operation.parameters.filter((parameter) => parameter.in === place)
  return fc.record({
    operation: fc.constant(operation),
    kind: fc.constant('valid' as const),
    asker,
    method: fc.constant(operation.method),
    path: pathOf(operation, within('path'), values),
    rawStep: fc.constant(undefined),
    query: parametersOf(within('query'), values),
    headers: parametersOf(within('header'), values),
    body: bodyOf(operation, values, pictures),
    mutation: fc.constant(undefined),
    overSocket,
  })
}

/** Of things that belong together, or of any that have been seen: then the anode is hardly ever one of the boat. */
function pathOf(operation: Operation, parameters: readonly Parameter[], values: ValidValues) {
  const any = parameters.map((one) => [one.name, stepOf(operation, one, values)] as const)
  const together = any.map(([name, step]) => {
    const kind = stepKind(collectionBefore(operation.path, name), name)
    return [name, fc.tuple(pickOne, step).map(([pick, otherwise]) => new Known(kind, pick, otherwise))] as const
  })
  return fc.oneof(
    { weight: 3, arbitrary: fc.record(Object.fromEntries(together)) },
    { weight: 2, arbitrary: fc.record(Object.fromEntries(any)) },
  )
}

/** Of what a parameter of a path is one: `{boat}` a boat, `{id}` one of the list before it. */
function stepKind(collection: string | undefined, name: string): string {
  return `step ${name === 'id' || name === 'file' ? collection : name}`
}

function stepOf({ path }: Operation, { name, schema }: Parameter, values: ValidValues): fc.Arbitrary<unknown> {
  const fresh = values.of(schema, name)
  const collection = collectionBefore(path, name)
  if (schema.enum || collection === undefined) return fresh
  return fc.tuple(pickOne, fresh).map(([pick, otherwise]) => new Known(kindOf(collection, schema), pick, otherwise))
}

/** Hardly ever one that another request had. */
const repeatKey = fc.oneof({ weight: 19, arbitrary: fc.uuid() }, { weight: 1, arbitrary: fc.constant('once more') })

/** Some lists have names as well as ids. */
function kindOf(collection: string, { format }: Parameter['schema']): string {
  return format === 'uuid' ? `id of ${collection}` : collection
}

function parametersOf(parameters: readonly Parameter[], values: ValidValues): fc.Arbitrary<Record<string, unknown>> {
  // A cursor is good for the list and the order alone that gave it out: with others it would spoil half of the requests.
  const sent = parameters.filter(({ name }) => name !== 'cursor')
  const arbitraries = sent.map(({ name, schema }) => {
    return [name, name === 'Idempotency-Key' ? repeatKey : values.of(schema, name)] as const
  })
  const requiredKeys = parameters.filter((one) => one.required || one.name === 'if-match').map((one) => one.name)
  return fc.record(Object.fromEntries(arbitraries), { requiredKeys })
}

function bodyOf({ body }: Operation, values: ValidValues, pictures: readonly Buffer[]) {
  if (!body) return fc.constant(undefined)
  if (body.mediaType === 'multipart/form-data') {
    return formOf(body.schema, pictures).map((parts): PlannedBody => ({ kind: 'form', parts }))
  }
  if (body.mediaType === 'application/json') {
    return values.of(body.schema, '').map((value): PlannedBody => ({ kind: 'json', value }))
  }
  return mailText.map((text): PlannedBody => ({ kind: 'text', text, mediaType: body.mediaType }))
}

/** Letters that came back, more or less as RFC 3464 has them. */
const mailText = fc
  .record({ to: hostileText, status: fc.constantFrom('5.1.1', '4.2.2', '') })
  .map(
    ({ to, status }) =>
      `From: mailer@example.org\r\nSubject: returned\r\nContent-Type: multipart/report; report-type=delivery-status; boundary=b\r\n\r\n` +
      `--b\r\nContent-Type: message/delivery-status\r\n\r\nReporting-MTA: dns; x\r\n\r\nFinal-Recipient: rfc822; ${to}\r\nAction: failed\r\nStatus: ${status}\r\n\r\n--b--\r\n`,
  )

const mutation: fc.Arbitrary<Mutation> = fc.record({
  part: fc.constantFrom('body', 'body', 'body', 'query', 'path', 'headers'),
  how: fc.constantFrom('replace', 'replace', 'drop', 'add', 'repeat'),
  where: pickOne,
  value: hostileValue,
  headers: hostileHeaders,
})

/** Steps of a path as nobody writes them: broken escapes, overlong UTF-8 (RFC 3629, 3), ways up. */
const rawStep = fc.constantFrom(
  '%',
  '%zz',
  '%00',
  '%c0%af',
  '%ff',
  '..',
  '%2e%2e',
  '.',
  '..%5c',
  ';a=b',
  '%2f',
  '~',
  '%F0%9F',
  '*',
)

function hostilePlan(operation: Operation): fc.Arbitrary<Plan> {
  const named = (place: Parameter['in']) =>
    operation.parameters.filter((parameter) => parameter.in === place).map(({ name }) => name)
  const queryName = fc.constantFrom(...named('query'), 'limit', 'cursor', 'sort', '__proto__', 'a[b]')
  const text = fc.record({
    kind: fc.constant('text' as const),
    text: hostileBody,
    mediaType: fc.oneof(fc.constant(operation.body?.mediaType ?? 'application/json'), hostileMediaType),
  })
  const form = hostileForm.map((parts): PlannedBody => ({ kind: 'form', parts }))
  return fc.record({
    operation: fc.constant(operation),
    kind: fc.constant('hostile' as const),
    asker,
    method: fc.oneof(
      { weight: 9, arbitrary: fc.constant(operation.method) },
      { weight: 1, arbitrary: fc.constantFrom('GET', 'HEAD', 'POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS') },
    ),
    path: fc.record(Object.fromEntries(named('path').map((name) => [name, pathText(operation, name)]))),
    rawStep: fc.option(rawStep, { nil: undefined, freq: 4 }),
    query: fc.dictionary(queryName, fc.oneof(hostileText, fc.array(hostileText, { maxLength: 3 })), { maxKeys: 3 }),
    headers: hostileHeaders,
    body: operation.method === 'GET' ? fc.constant(undefined) : fc.oneof(text, text, text, form),
    mutation: fc.constant(undefined),
    overSocket,
  })
}

/** Half of the hostile requests are about something that exists: else they are all refused at the first step. */
function pathText(operation: Operation, name: string): fc.Arbitrary<unknown> {
  const known = fc.tuple(pickOne, hostileText).map(([pick, text]) => {
    return new Known(collectionBefore(operation.path, name) ?? name, pick, text)
  })
  return fc.oneof(hostileText, known)
}
