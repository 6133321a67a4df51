import type { z } from 'zod'
import { NotConverged, OutOfRange } from '../../engine/errors.js'
import type { SourceKey } from '../../engine/reference/sources.js'
import { Invalid } from '../errors.js'
import { fieldErrors, pointerTo } from './field-errors.js'

/** A pure calculation that stands alone, as the command, the REST route and the page see it. */
export interface Calculator {
  readonly name: string
  readonly summary: string
  /** What is read, and what comes out, unrounded. */
  readonly input: z.ZodObject
  readonly output: z.ZodObject
  readonly sources: readonly SourceKey[]
  /** An input that works, for the documentation and the page. */
  readonly example: Readonly<Record<string, unknown>>
  /** @throws Invalid naming each field that cannot be accepted */
  readonly calculate: (input: unknown) => Record<string, unknown>
}

/** How a calculation is registered: its schemas and its engine function, with the names that both sides use. */
export interface CalculatorDefinition<I extends z.ZodObject, O extends z.ZodObject> {
  readonly name: string
  readonly summary: string
  readonly input: I
  readonly output: O
  readonly sources: readonly SourceKey[]
  readonly example: z.input<I> & Readonly<Record<string, unknown>>
  readonly compute: (input: z.output<I>) => z.input<O>
  /** The input field behind each quantity that the engine may refuse. */
  readonly fieldOf: Readonly<Record<string, string>>
  /** The field to name for any other; the whole input unless given. */
  readonly otherwise?: string
}

/** Ties schemas and engine function together: parsing, and refusals of the engine told by field. */
export function calculator<I extends z.ZodObject, O extends z.ZodObject>(
  definition: CalculatorDefinition<I, O>,
): Calculator {
  const { name, summary, input, output, sources, example } = definition
  const calculate = (body: unknown) => {
    const parsed = input.safeParse(body)
    if (!parsed.success) throw new Invalid(fieldErrors(parsed.error, body))
    try {
      return finite(output, definition.compute(parsed.data))
    } catch (error) {
      throw refusalByField(error, definition.fieldOf, definition.otherwise)
    }
  }
  return { name, summary, input, output, sources, example, calculate }
}

/** Each input may be a number and the answer none: 10^239 anodes, say. */
function finite<O extends z.ZodObject>(output: O, answer: z.input<O>): z.input<O> {
  const refused = output.safeParse(answer).error?.issues[0]
  if (refused === undefined) return answer
  const detail = `${refused.path.join('.')} is beyond what a number can hold: are the inputs in the units they are named for?`
  throw new Invalid([{ pointer: pointerTo([]), detail }])
}

function refusalByField(error: unknown, fieldOf: Readonly<Record<string, string>>, otherwise?: string): unknown {
  if (!(error instanceof OutOfRange || error instanceof NotConverged)) return error
  const named = error instanceof OutOfRange ? fieldOf[error.quantity] : undefined
  const field = named ?? otherwise
  const pointer = pointerTo(field === undefined ? [] : [field])
  return new Invalid([{ pointer, detail: field === undefined ? error.message : `${field}: ${error.message}` }])
}
