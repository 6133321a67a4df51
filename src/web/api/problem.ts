import { sayAtStart } from '../i18n/start-words.js'

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
