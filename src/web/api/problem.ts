import { z } from 'zod'
import { sayAtStart } from '../i18n/start-words.js'

const ProblemDocument = z.object({
  title: z.string().optional(),
  detail: z.string().optional(),
  code: z.string().optional(),
  errors: z
    .array(z.object({ pointer: z.string().default(''), detail: z.string(), code: z.string().optional() }))
    .default([]),
})

/** One thing the service did not accept: where in the request, and why. */
export interface FieldProblem {
  /** JSON pointer without the leading `#`, '' for the request as a whole. */
  readonly pointer: string
  readonly detail: string
  readonly code?: string | undefined
}

/** The service answered, but not with what was asked for. */
export class ServiceProblem extends Error {
  readonly status: number
  readonly code: string | undefined
  readonly fields: readonly FieldProblem[]

  constructor(status: number, detail: string, code: string | undefined, fields: readonly FieldProblem[]) {
    super(detail)
    this.name = 'ServiceProblem'
    this.status = status
    this.code = code
    this.fields = fields
  }
}

/** The service did not answer: no network, or it is down. What was sent may or may not have arrived. */
export class Unreachable extends Error {
  constructor(cause: unknown) {
    super(sayAtStart('unreachable'), { cause })
    this.name = 'Unreachable'
  }
}

/** The service answered with what these pages do not know: it was renewed since they were loaded. */
export class OtherAnswer extends Error {
  constructor(cause: unknown) {
    super(sayAtStart('newer'), { cause })
    this.name = 'OtherAnswer'
  }
}

/** Reads an RFC 9457 problem document; an answer that is none still gives a sentence. */
export function problemFrom(status: number, body: unknown): ServiceProblem {
  const parsed = ProblemDocument.safeParse(body)
  if (!parsed.success) return new ServiceProblem(status, `${sayAtStart('answered')} ${status}.`, undefined, [])
  const { title, detail, code, errors } = parsed.data
  const fields = errors.map((error) => ({
    ...error,
    pointer: error.pointer.replace(/^#/, ''),
    detail: asSentence(error.detail),
  }))
  return new ServiceProblem(status, asSentence(detail ?? title ?? `${sayAtStart('answered')} ${status}`), code, fields)
}

/** The service says its reasons as parts of a sentence; on a page they stand alone. */
function asSentence(text: string): string {
  const whole = text.charAt(0).toUpperCase() + text.slice(1)
  return /[.?!]$/.test(whole) ? whole : `${whole}.`
}
