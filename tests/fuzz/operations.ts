/** As much of JSON Schema 2020-12 as the document uses. */
export interface Schema {
  readonly $ref?: string
  readonly type?: string | readonly string[]
  readonly format?: string
  readonly pattern?: string
  readonly enum?: readonly unknown[]
  readonly const?: unknown
  readonly anyOf?: readonly Schema[]
  readonly oneOf?: readonly Schema[]
  readonly minimum?: number
  readonly maximum?: number
  readonly exclusiveMinimum?: number
  readonly exclusiveMaximum?: number
  readonly minLength?: number
  readonly maxLength?: number
  readonly minItems?: number
  readonly maxItems?: number
  readonly items?: Schema
  readonly properties?: Readonly<Record<string, Schema>>
  readonly required?: readonly string[]
  readonly additionalProperties?: Schema | boolean
}

export interface Parameter {
  readonly name: string
  readonly in: 'path' | 'query' | 'header'
  readonly required?: boolean
  readonly schema: Schema
}

type Content = Readonly<Record<string, { readonly schema?: Schema }>>

interface Described {
  readonly parameters?: readonly Parameter[]
  readonly requestBody?: { readonly content: Content }
  readonly responses: Readonly<Record<string, { readonly content?: Content }>>
}

export interface ApiDocument {
  readonly paths: Readonly<Record<string, Readonly<Record<string, Described>>>>
  readonly components: { readonly schemas: Readonly<Record<string, Schema>> }
}

/** One method at one path. */
export interface Operation {
  readonly name: string
  readonly method: string
  readonly path: string
  readonly parameters: readonly Parameter[]
  readonly body: { readonly mediaType: string; readonly schema: Schema } | undefined
  readonly responses: Described['responses']
}

export function operationsOf(document: ApiDocument): Operation[] {
  return Object.entries(document.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, described]) => ({
      name: `${method.toUpperCase()} ${path}`,
      method: method.toUpperCase(),
      path,
      parameters: described.parameters ?? [],
      body: bodyOf(described),
      responses: described.responses,
    })),
  )
}

function bodyOf({ requestBody }: Described): Operation['body'] {
  const [mediaType, content] = Object.entries(requestBody?.content ?? {})[0] ?? []
  return mediaType === undefined ? undefined : { mediaType, schema: content?.schema ?? {} }
}

/** What a list of the API is called, for a parameter behind it: `anodes` for `{anode}` in `/v1/boats/{boat}/anodes/{anode}`. */
export function collectionBefore(path: string, parameter: string): string | undefined {
  const steps = path.split('/')
  return steps[steps.indexOf(`{${parameter}}`) - 1]
}
