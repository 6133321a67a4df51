import type { z } from 'zod'
import type { FieldError } from '../errors.js'

/** JSON pointer of a path, as a URI fragment (RFC 6901, 6). */
export function pointerTo(path: readonly PropertyKey[]): string {
  const steps = path.map((step) => encodeURIComponent(String(step).replaceAll('~', '~0').replaceAll('/', '~1')))
  return ['#', ...steps].join('/')
}

/** What a schema refused, one entry a field: unknown fields by their own name, missing ones as missing. */
export function fieldErrors(error: z.ZodError, body: unknown): FieldError[] {
  return error.issues.flatMap((issue) => {
    if (issue.code === 'unrecognized_keys') {
      return issue.keys.map((key) => fieldError([...issue.path, key], 'is not a field of this calculation'))
    }
    const missing = issue.path.length > 0 && valueAt(body, issue.path) === undefined && issue.code !== 'custom'
    return [fieldError(issue.path, missing ? 'is required' : issue.message)]
  })
}

function fieldError(path: readonly PropertyKey[], reason: string): FieldError {
  const subject = path.length === 0 ? 'the input' : path.map(String).join('.')
  return {
    pointer: pointerTo(path),
    detail: reason.startsWith('is ') ? `${subject} ${reason}` : `${subject}: ${reason}`,
  }
}

function valueAt(body: unknown, path: readonly PropertyKey[]): unknown {
  let value = body
  for (const step of path) {
    if (typeof value !== 'object' || value === null) return undefined
    value = Reflect.get(value, step)
  }
  return value
}
