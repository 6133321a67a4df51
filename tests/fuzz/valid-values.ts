import fc from 'fast-check'
import { Known } from './known.js'
import type { ApiDocument, Schema } from './operations.js'

/** Longest text or list that is made without need. */
const USUAL_LENGTH = 24
const USUAL_ITEMS = 4
/** Days around those of the fleet that the service has. */
const DAYS = { min: new Date('2022-01-01'), max: new Date('2027-12-31'), noInvalidDate: true } as const

/** Makes values that hold against a schema of the document. */
export class ValidValues {
  readonly #schemas: ApiDocument['components']['schemas']
  readonly #made = new Map<string, fc.Arbitrary<unknown>>()

  constructor({ components }: ApiDocument) {
    this.#schemas = components.schemas
  }

  /** @param name of the member or parameter that holds it: a text may then be one that the service has shown under it */
  of(schema: Schema, name: string): fc.Arbitrary<unknown> {
    if (schema.$ref !== undefined) return this.#referred(schema.$ref, name)
    if (schema.const !== undefined) return fc.constant(schema.const)
    if (schema.enum) return fc.constantFrom(...schema.enum)
    const choices = schema.anyOf ?? schema.oneOf ?? eachType(schema)
    if (choices) return fc.oneof(...choices.map((choice) => this.of(choice, name)))
    switch (schema.type) {
      case 'object':
        return this.#object(schema)
      case 'array':
        return this.#array(schema, name)
      case 'string':
        return knownOr(name, textOf(schema), schema.format)
      case 'integer':
        return fc.integer({ min: schema.minimum ?? -1000, max: schema.maximum ?? 100_000 })
      case 'number':
        return numberOf(schema)
      case 'boolean':
        return fc.boolean()
      case 'null':
        return fc.constant(null)
      default:
        return fc.jsonValue({ maxDepth: 2 })
    }
  }

  #referred(reference: string, name: string): fc.Arbitrary<unknown> {
    const key = `${reference} ${name}`
    const made = this.#made.get(key) ?? this.of(this.#schemas[reference.split('/').at(-1) ?? ''] ?? {}, name)
    this.#made.set(key, made)
    return made
  }

  #object({ properties = {}, required = [], additionalProperties }: Schema): fc.Arbitrary<unknown> {
    const members = Object.entries(properties).map(([name, schema]) => [name, this.of(schema, name)] as const)
    const declared = fc.record(Object.fromEntries(members), {
      requiredKeys: [...required].filter((name) => name in properties),
    })
    if (typeof additionalProperties !== 'object' || members.length > 0) return declared
    return fc.dictionary(word, this.of(additionalProperties, ''), { maxKeys: USUAL_ITEMS })
  }

  #array({ items = {}, minItems = 0, maxItems = USUAL_ITEMS }: Schema, name: string): fc.Arbitrary<unknown> {
    const most = Math.max(minItems, Math.min(maxItems, USUAL_ITEMS))
    return fc.array(this.of(items, name.replace(/s$/, '')), { minLength: minItems, maxLength: most })
  }
}

/** Several types are several schemas. */
function eachType(schema: Schema): Schema[] | undefined {
  return Array.isArray(schema.type) ? schema.type.map((type: string) => ({ ...schema, type })) : undefined
}

const word = fc.stringMatching(/^[a-z][a-z ]{2,10}$/)
const day = fc.date(DAYS).map((date) => date.toISOString().slice(0, 10))

const FORMATS: Readonly<Record<string, fc.Arbitrary<string>>> = {
  date: day,
  'date-time': fc.date(DAYS).map((date) => date.toISOString()),
  uuid: fc.uuid({ version: 4 }),
  email: fc.stringMatching(/^[a-z]{3,9}$/).map((name) => `${name}@example.org`),
  // An address that no name service knows: RFC 6761, 6.4.
  uri: fc.stringMatching(/^[a-z]{3,9}$/).map((name) => `https://${name}.invalid/told`),
}

function textOf({ format, pattern, minLength = 0, maxLength = USUAL_LENGTH }: Schema): fc.Arbitrary<string> {
  const formatted = FORMATS[format ?? '']
  if (formatted) return formatted
  if (pattern !== undefined) return matching(pattern)
  const most = Math.max(minLength, Math.min(maxLength, USUAL_LENGTH))
  const usual = fc.string({ unit: 'grapheme', minLength, maxLength: most })
  const longest = fc.constant('L'.repeat(Math.min(maxLength, 2000)))
  return fc.oneof({ weight: 8, arbitrary: word }, { weight: 3, arbitrary: usual }, { weight: 1, arbitrary: longest })
}

/** The library makes no texts by what must not follow: they are made without that, and those that hold are taken. */
function matching(pattern: string): fc.Arbitrary<string> {
  const whole = new RegExp(pattern, 'u')
  return fc.stringMatching(new RegExp(pattern.replaceAll(/\(\?![^)]*\)/g, ''), 'u')).filter((text) => whole.test(text))
}

/** Which of the things that are there: each as often as the others. */
export const pickOne: fc.Arbitrary<number> = fc.noBias(fc.double({ min: 0, max: 0.999, noNaN: true }))

/** Ids are worth nothing unless they exist; days, instants and addresses are better made. */
function knownOr(name: string, fresh: fc.Arbitrary<string>, format: string | undefined): fc.Arbitrary<unknown> {
  if (format !== undefined && format !== 'uuid') return fresh
  const kind = format === 'uuid' ? `id of ${kindOf(name)}` : kindOf(name)
  const known = fc.tuple(pickOne, fresh).map(([pick, otherwise]) => new Known(kind, pick, otherwise))
  return fc.oneof({ weight: 4, arbitrary: known }, { weight: format === 'uuid' ? 1 : 3, arbitrary: fresh })
}

/** `anodeId` is an id of the list `anodes`. */
function kindOf(name: string): string {
  return name.endsWith('Id') ? `${name.slice(0, -2)}s` : name
}

function numberOf(schema: Schema): fc.Arbitrary<number> {
  const min = schema.exclusiveMinimum ?? schema.minimum
  const max = schema.exclusiveMaximum ?? schema.maximum
  const within = fc.double({
    ...(min !== undefined && { min, minExcluded: schema.exclusiveMinimum !== undefined }),
    ...(max !== undefined && { max, maxExcluded: schema.exclusiveMaximum !== undefined }),
    noNaN: true,
    noDefaultInfinity: true,
  })
  const least = Math.ceil((min ?? 0) + 1e-9)
  const most = Math.floor(Math.min(max ?? 5000, 5000) - 1e-9)
  if (least > most) return within
  return fc.oneof({ weight: 3, arbitrary: fc.integer({ min: least, max: most }) }, { weight: 2, arbitrary: within })
}
