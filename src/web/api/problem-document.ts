import { z } from 'zod'
import type { SayProblem } from '../i18n/problem-words.js'
import type { SayRefusal } from '../i18n/refusal-words.js'
import { sayAtStart } from '../i18n/start-words.js'
import { ServiceProblem } from './problem.js'

const ProblemDocument = z.object({
  title: z.string().optional(),
  detail: z.string().optional(),
  code: z.string().optional(),
  errors: z
    .array(z.object({ pointer: z.string().default(''), detail: z.string(), code: z.string().optional() }))
    .default([]),
})

/** The reader's own words, as far as there are any; else it is the service's English. */
export interface ProblemWords {
  readonly sayProblem: SayProblem
  readonly sayRefusal: SayRefusal
}

/** Reads an RFC 9457 problem document; an answer that is none still gives a sentence. */
export function problemFrom(status: number, body: unknown, { sayProblem, sayRefusal }: ProblemWords): ServiceProblem {
  const parsed = ProblemDocument.safeParse(body)
  if (!parsed.success) {
    const sentence = sayProblem(status, undefined) ?? `${sayAtStart('answered')} ${status}.`
    return new ServiceProblem(status, sentence, undefined, [])
  }
  const { title, detail, code, errors } = parsed.data
  const fields = errors.map((error) => ({
    ...error,
    pointer: error.pointer.replace(/^#/, ''),
    detail: asSentence(sayRefusal(error.detail)),
  }))
  // Where it only repeats what is wrong with the fields, it is said as these are.
  const isOfFields = errors.length > 0 && detail === errors.map((error) => error.detail).join('; ')
  const own = isOfFields ? fields.map((field) => field.detail).join(' ') : undefined
  const sentence =
    sayProblem(status, code) ?? own ?? asSentence(sayRefusal(detail ?? title ?? `${sayAtStart('answered')} ${status}`))
  return new ServiceProblem(status, sentence, code, fields)
}

/** The service says its reasons as parts of a sentence; on a page they stand alone. */
function asSentence(text: string): string {
  const whole = text.charAt(0).toUpperCase() + text.slice(1)
  return /[.?!]$/.test(whole) ? whole : `${whole}.`
}
