import { type Plugin, parseAst } from 'vite'

/** Schemas are told there what they are for, with examples. */
const SCHEMAS = /\/src\/contract\/[^?]+\.ts$/

interface Node {
  readonly type: string
  readonly start: number
  readonly end: number
}

/**
 * Leaves `.meta({…})` of the schemas out of the built pages: names, descriptions and examples are for the document of the
 * API, and were a fifth of what a phone loads of the schemas.
 */
export function leaveOutNotes(): Plugin {
  return {
    name: 'leave-out-notes',
    apply: 'build',
    enforce: 'post',
    transform: {
      filter: { id: SCHEMAS },
      handler: (code) => ({ code: withoutNotes(code), map: null }),
    },
  }
}

function withoutNotes(code: string): string {
  const calls: { from: number; to: number }[] = []
  collect(parseAst(code), calls)
  // From the end, so that the places of those before it stay; none lies within another.
  return calls
    .toSorted((one, other) => other.from - one.from)
    .reduce((rest, { from, to }) => rest.slice(0, from) + rest.slice(to), code)
}

function collect(value: unknown, calls: { from: number; to: number }[]): void {
  if (Array.isArray(value)) for (const each of value) collect(each, calls)
  else if (isNode(value)) {
    const noted = value.type === 'CallExpression' ? notedSchema(value) : undefined
    if (noted) {
      calls.push({ from: noted.end, to: value.end })
      collect(noted, calls)
    } else for (const each of Object.values(value)) collect(each, calls)
  }
}

/** What `.meta` is called on. */
function notedSchema(call: Node & { callee?: Node & { property?: unknown; object?: unknown } }): Node | undefined {
  const { property, object } = call.callee ?? {}
  const isMeta = isNode(property) && 'name' in property && property.name === 'meta'
  return isMeta && isNode(object) ? object : undefined
}

function isNode(value: unknown): value is Node {
  return typeof value === 'object' && value !== null && 'type' in value && 'start' in value && 'end' in value
}
