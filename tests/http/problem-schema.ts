import { Ajv2020 } from 'ajv/dist/2020.js'
import addFormats from 'ajv-formats'
import { expect } from 'vitest'

/** RFC 9457 (2023), appendix A: "JSON Schema for HTTP Problems", without its descriptions. */
const HTTP_PROBLEM = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  title: 'An RFC 7807 problem object',
  type: 'object',
  properties: {
    type: { type: 'string', format: 'uri-reference' },
    title: { type: 'string' },
    status: { type: 'integer', minimum: 100, maximum: 599 },
    detail: { type: 'string' },
    instance: { type: 'string', format: 'uri-reference' },
  },
}

const ajv = new Ajv2020({ allErrors: true })
addFormats.default(ajv)
const validate = ajv.compile(HTTP_PROBLEM)

/** Whether a body is a problem document by the schema of the RFC. */
export function isProblem(body: unknown): boolean {
  return validate(body)
}

interface Answer {
  statusCode: number
  headers: Record<string, unknown>
  json(): unknown
}

export interface ProblemBody {
  type: string
  title: string
  status: number
  detail?: string
  instance?: string
  errors?: { pointer: string; detail: string; in?: string }[]
}

/** Checks that an answer is a problem document with this status, and gives it. */
export function expectProblem(answer: Answer, status: number): ProblemBody {
  expect(answer.statusCode, JSON.stringify(answer.json())).toBe(status)
  expect(answer.headers['content-type']).toBe('application/problem+json')
  const body = answer.json() as ProblemBody
  expect(validate(body), JSON.stringify(validate.errors)).toBe(true)
  // RFC 9457, 3.1.2: "the status member … is only advisory"; where it is there it tells the status that was sent.
  expect(body.status).toBe(status)
  return body
}
