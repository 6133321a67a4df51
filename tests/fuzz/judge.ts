import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js'
import addFormats from 'ajv-formats'
import { isProblem } from '../http/problem-schema.js'
import type { ApiDocument, Operation } from './operations.js'

export interface Answer {
  readonly status: number
  readonly mediaType: string | undefined
  readonly body: string
  readonly tookMs: number
}

/** Longest that any request may take, on a machine that does other work too; alone most take under 50 ms. */
export const SLOWEST_MS = 10_000

/** Finds what is wrong with an answer by the document alone. */
export class Judge {
  readonly #ajv = new Ajv2020({ strict: false, allErrors: false, validateSchema: false })
  readonly #compiled = new Map<string, ValidateFunction>()

  constructor(document: ApiDocument) {
    addFormats.default(this.#ajv)
    this.#ajv.addSchema(document, 'api')
  }

  /** @param operation undefined where the request was none of the document's */
  faultOf(operation: Operation | undefined, method: string, answer: Answer): string | undefined {
    const { status, tookMs } = answer
    if (status >= 500) return `status ${status}`
    if (tookMs > SLOWEST_MS) return `took ${Math.round(tookMs)} ms`
    if (status >= 400) return method === 'HEAD' ? undefined : this.#faultOfProblem(answer)
    return operation && this.#faultOfSuccess(operation, answer)
  }

  #faultOfProblem({ status, mediaType, body }: Answer): string | undefined {
    if (mediaType !== 'application/problem+json') return `${status} is ${mediaType}, no problem document`
    const problem = parsed(body)
    if (!isProblem(problem) || !this.#holds('#/components/schemas/Problem', problem)) {
      return `${status} is no valid problem document`
    }
    return (problem as { status: number }).status === status ? undefined : `the problem does not say ${status}`
  }

  #faultOfSuccess(operation: Operation, { status, mediaType, body }: Answer): string | undefined {
    const response = operation.responses[status]
    if (!response) return `status ${status} is not documented`
    if (!response.content) return body === '' ? undefined : `${status} should have no body`
    if (mediaType === undefined || !(mediaType in response.content)) return `${status} is ${mediaType}, not documented`
    if (!mediaType.endsWith('json')) return undefined
    const steps = [
      'paths',
      operation.path,
      operation.method.toLowerCase(),
      'responses',
      String(status),
      'content',
      mediaType,
    ]
    const pointer = `#/${steps.map(asPointerStep).join('/')}/schema`
    const json = parsed(body)
    if (json === undefined) return `${status} is no JSON`
    return this.#holds(pointer, json) ? undefined : `${status} breaks its schema: ${this.#reason(pointer)}`
  }

  #holds(pointer: string, json: unknown): boolean {
    const validate = this.#compiled.get(pointer) ?? this.#ajv.compile({ $ref: `api${pointer}` })
    this.#compiled.set(pointer, validate)
    return validate(json)
  }

  #reason(pointer: string): string {
    const [first] = this.#compiled.get(pointer)?.errors ?? []
    return `${first?.instancePath} ${first?.message} ${JSON.stringify(first?.params)}`
  }
}

function parsed(body: string): unknown {
  try {
    return JSON.parse(body)
  } catch {
    return undefined
  }
}

function asPointerStep(step: string): string {
  return encodeURIComponent(step.replaceAll('~', '~0').replaceAll('/', '~1'))
}
