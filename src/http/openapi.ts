import swagger from '@fastify/swagger'
import swaggerUi from '@fastify/swagger-ui'
import type { FastifyInstance, FastifySchema } from 'fastify'
import { createJsonSchemaTransform, createJsonSchemaTransformObject } from 'fastify-type-provider-zod'
import { globalRegistry } from 'zod'
import { Problem } from '../contract/problems.js'
import { OPEN_ROUTES } from './auth/permissions.js'

/** What Zod writes that no reader wants: pages of regular expressions, and bounds of every whole number. */
const zodToJsonConfig: NonNullable<Parameters<typeof createJsonSchemaTransform>[0]['zodToJsonConfig']> = {
  override: ({ jsonSchema: schema }) => {
    if (['date', 'date-time', 'uuid', 'email'].includes(schema.format ?? '')) delete schema.pattern
    if (schema.type === 'integer' && schema.minimum === Number.MIN_SAFE_INTEGER) delete schema.minimum
    if (schema.type === 'integer' && schema.maximum === Number.MAX_SAFE_INTEGER) delete schema.maximum
  },
}

const TAGS = [
  { name: 'Forecasts', description: 'Replacement dates with honest intervals' },
  { name: 'Findings', description: 'Abnormal wear with its likely causes, the next check, and what was done' },
  {
    name: 'Fleet desk',
    description: 'The fleet at a glance: due dates, plans of lifts, parts, comparisons, saved views',
  },
  { name: 'Boats', description: 'Boats and their owners' },
  { name: 'Costs', description: 'What lifts and parts cost, what a boat has cost and what its next lift will' },
  { name: 'Berths', description: 'Berths, pontoons and the water there' },
  { name: 'Stays', description: 'Which boat lay where, from when to when' },
  { name: 'Fittings', description: 'Underwater metal of a boat' },
  { name: 'Anodes', description: 'Sacrificial anodes, by boat and position' },
  { name: 'Haul-outs', description: 'Lifts: hauled, weighed or replaced, relaunched' },
  { name: 'Weighings', description: 'Dated masses of an anode' },
  { name: 'Potentials', description: 'Potentials against a reference electrode' },
  { name: 'Continuity', description: 'Resistances of the bonding' },
  { name: 'Photos', description: 'Pictures of a weighing or a haul-out' },
  { name: 'Imports and exports', description: 'A fleet as CSV files' },
  { name: 'Calculators', description: 'Single calculations' },
  { name: 'Reference', description: 'Published values with their sources' },
  { name: 'Jobs', description: 'Work in the background' },
  { name: 'Notifications', description: 'Web push (RFC 8030) on the devices of a person' },
  { name: 'Calendars', description: 'Private links that a calendar program reads: due dates and lifts' },
  { name: 'Notices', description: 'Letters to owners: when, to whom, why' },
  { name: 'Letters', description: 'What the links in letters lead to' },
  { name: 'Webhooks', description: 'What other systems are told, signed, with a log of what was sent' },
  { name: 'Organisation', description: 'Settings, members, API keys, audit trail' },
  { name: 'Sign-in', description: 'People and sessions' },
  { name: 'Service', description: 'The service itself' },
]

const PROBLEM = {
  description: 'What went wrong (RFC 9457)',
  content: {
    'application/problem+json': { schema: { $ref: `#/components/schemas/${globalRegistry.get(Problem)?.id}` } },
  },
}

const toJsonSchema = createJsonSchemaTransform({ zodToJsonConfig })

/** The document at /v1/openapi.json, made of the routes' own schemas, and the page at /docs that shows it. */
export async function describeApi(app: FastifyInstance, version: string): Promise<void> {
  await app.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Anode Ledger',
        description:
          'Log the sacrificial anodes of a fleet at each haul-out, fit their depletion rates, forecast when each should ' +
          'be replaced. Dates are ISO 8601, instants UTC, masses grams, potentials volts. Errors are problem documents ' +
          '(RFC 9457). Every POST takes an Idempotency-Key, every PATCH and DELETE needs If-Match with the ETag of the last reading.',
        version,
        license: { name: 'MIT', identifier: 'MIT' },
      },
      tags: TAGS,
      components: {
        securitySchemes: {
          apiKey: { type: 'http', scheme: 'bearer', description: 'An API key of the organisation' },
          session: { type: 'apiKey', in: 'cookie', name: SESSION_COOKIE, description: 'A person who signed in' },
        },
      },
      security: [{ apiKey: [] }, { session: [] }],
    },
    transform: (input) => {
      const transformed = toJsonSchema(input)
      return { ...transformed, schema: withRules(transformed.schema, input.route.method, input.url) }
    },
    transformObject: createJsonSchemaTransformObject({ zodToJsonConfig }),
  })
  await app.register(swaggerUi, {
    routePrefix: '/docs',
    uiConfig: { docExpansion: 'none', deepLinking: true },
    theme: { title: 'Anode Ledger: the REST API', favicon: [], css: [{ filename: 'page.css', content: PAGE_CSS }] },
  })
}

/** The bar on top only offers to open some other document. */
const PAGE_CSS = '.swagger-ui .topbar { display: none }'

/** The session's cookie; behind HTTPS its name begins with `__Host-`. */
export const SESSION_COOKIE = 'anode_ledger.session_token'

/** What holds for every route is said once: problems, the key of repeated POSTs, open doors. */
function withRules(schema: FastifySchema, method: string | string[], url: string): FastifySchema {
  if (schema.hide) return schema
  const methods = [method].flat()
  const open = methods.some((one) => OPEN_ROUTES.has(`${one} ${url}`)) || !url.startsWith('/v1')
  const repeatable = methods.includes('POST') && !open
  return {
    ...schema,
    ...(open && { security: [] }),
    ...(repeatable && { headers: withRepeatKey(schema.headers) }),
    response: { ...(schema.response as object | undefined), default: PROBLEM },
  }
}

function withRepeatKey(headers: unknown): object {
  const { properties, ...rest } = (headers ?? { type: 'object' }) as { properties?: object }
  return { ...rest, properties: { ...properties, 'Idempotency-Key': REPEAT_KEY } }
}

const REPEAT_KEY = {
  type: 'string',
  minLength: 1,
  maxLength: 255,
  description: 'A request sent again with its key is done once and answered alike, for 7 days',
}
