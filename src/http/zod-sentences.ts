import type { FastifyError, FastifySchemaValidationError } from 'fastify'
import { MOST_ERRORS_TOLD } from '../contract/imports.js'

/** Names of the parts of a request, from the framework's to the reader's. */
const PARTS: Readonly<Record<string, 'body' | 'query' | 'path' | 'headers'>> = {
  body: 'body',
  querystring: 'query',
  params: 'path',
  headers: 'headers',
}

export interface RequestFieldError {
  readonly pointer: string
  readonly detail: string
  readonly in?: 'body' | 'query' | 'path' | 'headers'
}

/** Turns what the schema found into sentences that name the field and the reason: the first of them, for a body can hold a hundred thousand faults. */
export function fieldErrors(error: {
  validation?: FastifySchemaValidationError[] | undefined
  validationContext?: FastifyError['validationContext'] | undefined
}): RequestFieldError[] {
  const part = PARTS[error.validationContext ?? '']
  return (error.validation ?? [])
    .slice(0, MOST_ERRORS_TOLD)
    .flatMap((issue) => fieldsOf(issue))
    .slice(0, MOST_ERRORS_TOLD)
    .map((field) => ({ ...field, ...(part && { in: part }) }))
}

interface Field {
  readonly pointer: string
  readonly detail: string
}

function fieldsOf(issue: FastifySchemaValidationError): Field[] {
  const path = issue.instancePath === '/' ? '' : issue.instancePath
  const params: Record<string, unknown> = issue.params
  if (issue.keyword === 'unrecognized_keys' && Array.isArray(params.keys)) {
    return params.keys.slice(0, MOST_ERRORS_TOLD).map((key) => ({
      pointer: `#${path}/${asPointerStep(String(key))}`,
      detail: `${key} is not known here`,
    }))
  }
  return [{ pointer: `#${path}`, detail: `${nameOf(path)} ${reasonOf(issue, params)}` }]
}

/** The field by its own name; an item of a list by the list's name and its number as people count. */
function nameOf(path: string): string {
  const steps = path.split('/').filter((step) => step !== '')
  const last = steps.at(-1)
  if (last === undefined) return 'the request'
  const before = steps.at(-2)
  return /^\d+$/.test(last) && before !== undefined ? `${before} (number ${Number(last) + 1})` : last
}

function asPointerStep(step: string): string {
  return step.replaceAll('~', '~0').replaceAll('/', '~1')
}

function reasonOf(issue: FastifySchemaValidationError, params: Record<string, unknown>): string {
  switch (issue.keyword) {
    case 'invalid_type':
      return reasonOfType(issue, params)
    case 'too_small':
      return bound(params, params.minimum, params.inclusive === false ? 'above' : 'at least')
    case 'too_big':
      return bound(params, params.maximum, params.inclusive === false ? 'below' : 'at most')
    case 'invalid_value':
      return `must be one of ${list(params.values)}`
    case 'invalid_format':
      return `must be ${FORMATS[String(params.format)] ?? 'in the form asked for'}`
    case 'not_multiple_of':
      return `must be a multiple of ${params.divisor}`
    default:
      return asPredicate(issue.message ?? 'cannot be accepted')
  }
}

function reasonOfType(issue: FastifySchemaValidationError, params: Record<string, unknown>): string {
  if (issue.message?.endsWith('received undefined')) return 'is missing'
  const expected = TYPES[String(params.expected)] ?? String(params.expected)
  return `must be ${expected}`
}

function bound(params: Record<string, unknown>, limit: unknown, comparison: string): string {
  if (params.origin === 'string') {
    return Number(limit) === 1 && comparison === 'at least'
      ? 'must not be empty'
      : `must have ${comparison} ${limit} characters`
  }
  if (params.origin === 'array') return `must have ${comparison} ${limit} entries`
  return `must be ${comparison} ${limit}`
}

function list(values: unknown): string {
  return Array.isArray(values) ? values.join(', ') : String(values)
}

/** A schema's own message, after the field's name: kept as it is, in lower case. */
function asPredicate(message: string): string {
  return message.startsWith('Invalid input') ? 'cannot be accepted in this form' : message
}

const TYPES: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object',
  record: 'an object',
  null: 'null',
}

const FORMATS: Readonly<Record<string, string>> = {
  date: 'a date such as 2031-04-18',
  datetime: 'an instant in UTC such as 2031-04-18T09:30:00Z',
  email: 'an e-mail address',
  uuid: 'an identifier (UUID)',
  url: 'a web address',
}
