import { isIP } from 'node:net'
import { z } from 'zod'
import { type MostConnections, USUAL_CONNECTIONS } from './db/connections.js'

/** Names for ranges of addresses that the HTTP library knows. */
const NAMED_RANGES = ['loopback', 'linklocal', 'uniquelocal']

function readTrust(text: string, context: z.RefinementCtx): number | string[] {
  if (/^\d{1,2}$/.test(text.trim())) return Number(text)
  const addresses = listOf(text)
  if (addresses.every(isNamedOrRange)) return addresses
  context.addIssue('must be how many proxies there are, or their addresses: 1, or 10.0.0.2, 192.168.7.0/24, loopback')
  return z.NEVER
}

function readRanges(text: string, context: z.RefinementCtx): string[] {
  const ranges = listOf(text)
  if (ranges.every(isNamedOrRange)) return ranges
  context.addIssue('must be addresses or ranges: 10.0.0.2, 192.168.7.0/24, loopback')
  return z.NEVER
}

const listOf = (text: string) => text.split(',').map((each) => each.trim())
const isNamedOrRange = (each: string) => NAMED_RANGES.includes(each) || isAddressOrRange(each)

function isAddressOrRange(text: string): boolean {
  const [address = '', bits, ...rest] = text.split('/')
  const family = isIP(address)
  const most = family === 4 ? 32 : 128
  return family !== 0 && rest.length === 0 && (bits === undefined || (/^\d{1,3}$/.test(bits) && Number(bits) <= most))
}

/** What a process does: answers requests, does the work beside them, or both. */
export const PROCESSES = ['both', 'server', 'worker'] as const
export type ProcessKind = (typeof PROCESSES)[number]

/** What processes on several hosts must be told, for none of them can find it out alone. */
const NEEDED_APART = {
  DATABASE_URL: 'the embedded database is open to one process alone, which is PROCESS=both',
  SESSION_SECRET: 'a session that one process began must be known to the others',
  PUBLIC_URL: 'links in letters and cookies are for the address that people use',
} as const

/** Whoever starts takes one and works with others under its lock: with a single one it would wait for itself. */
const FEWEST_OWN_CONNECTIONS = 2

const Environment = z.object({
  PROCESS: z.enum(PROCESSES).default('both'),
  HOST: z.string().min(1).default('127.0.0.1'),
  PORT: z.coerce.number().int().min(0).max(65_535).default(3000),
  /** How people reach the service from outside; links in mail begin with it. */
  PUBLIC_URL: z.url().optional(),
  DATABASE_URL: z.string().min(1).optional(),
  DATA_DIR: z.string().min(1).default('./data'),
  /**
   * Connections to a PostgreSQL server that one process opens at most, in three pools (docs/scale.md): what requests and jobs do for one
   * organisation, what is done across them (who asks, what is due), migrations and the queue. Opened when needed, closed when idle.
   */
  SERVICE_CONNECTIONS: z.coerce.number().int().min(1).max(1_000).default(USUAL_CONNECTIONS.service),
  ACROSS_CONNECTIONS: z.coerce.number().int().min(1).max(1_000).default(USUAL_CONNECTIONS.across),
  OWN_CONNECTIONS: z.coerce.number().int().min(FEWEST_OWN_CONNECTIONS).max(1_000).default(USUAL_CONNECTIONS.own),
  ADMIN_API_KEY: z.string().min(1).optional(),
  /** Name of the organisation that is made at a first start with ADMIN_API_KEY. */
  ORGANISATION_NAME: z.string().trim().min(1).max(200).default('My organisation'),
  /** Requests a minute that one key or person may send; 0 means no limit. */
  RATE_LIMIT: z.coerce.number().int().min(0).default(12_000),
  /** Who may say for whom a request is forwarded: how many proxies stand before the service, or their addresses. */
  TRUST_PROXY: z.string().transform(readTrust).optional(),
  /** Signs the sessions' cookies; without it one is made and kept in DATA_DIR. */
  SESSION_SECRET: z.string().min(32, 'must have at least 32 characters').optional(),
  SMTP_URL: z.string().min(1).optional(),
  MAIL_FROM: z.string().min(3).default('anode-ledger@localhost'),
  /** s3://bucket?endpoint=…&region=…: photos go there; without it under DATA_DIR. */
  PHOTO_STORE: z.string().min(1).optional(),
  /** Networks of one's own that webhooks may be sent to: addresses, ranges, loopback. Without it the public network alone. */
  WEBHOOK_NETWORKS: z.string().transform(readRanges).optional(),
  /** Keys of web push (RFC 8292) as base64url; without them a pair is made once and kept in the database. */
  VAPID_PUBLIC_KEY: z
    .string()
    .regex(/^[\w-]{87}$/, 'must be a public key of P-256 as base64url')
    .optional(),
  VAPID_PRIVATE_KEY: z
    .string()
    .regex(/^[\w-]{43}$/, 'must be a private key of P-256 as base64url')
    .optional(),
  /** Whom push services may turn to; MAIL_FROM unless given. */
  VAPID_SUBJECT: z
    .string()
    .regex(/^(mailto|https):\S+$/, 'must be a mailto: or https: address')
    .optional(),
  /** Opens /metrics to whoever shows it. */
  METRICS_TOKEN: z.string().min(16, 'must have at least 16 characters').optional(),
  /**
   * Statements that take longer are logged [ms]; 0 logs all, -1 none, as PostgreSQL's own log_min_duration_statement. A person's thought is
   * interrupted after a second (Nielsen, Usability Engineering, 1993, 5.5), and an answer takes several statements: half of it is too much
   * for one.
   */
  SLOW_QUERY_MS: z.coerce.number().int().min(-1).default(500),
  /** Where traces and figures go by OTLP; the other variables of the OpenTelemetry specification are read by its own packages. */
  OTEL_EXPORTER_OTLP_ENDPOINT: z.url({ protocol: /^https?$/ }).optional(),
  LOG_LEVEL: z.enum(['fatal', 'error', 'warn', 'info', 'debug', 'trace', 'silent']).default('info'),
})

/** Every variable that the service reads; what a library reads beside it is the library's. */
export const VARIABLES: readonly string[] = Object.keys(Environment.shape)

export interface Config {
  readonly process: ProcessKind
  readonly host: string
  readonly port: number
  readonly publicUrl: string | undefined
  readonly databaseUrl: string | undefined
  readonly dataDir: string
  readonly connections: MostConnections
  readonly adminApiKey: string | undefined
  readonly organisationName: string
  readonly requestsPerMinute: number
  readonly trustProxy: number | readonly string[] | undefined
  readonly sessionSecret: string | undefined
  readonly smtpUrl: string | undefined
  readonly mailFrom: string
  readonly photoStore: string | undefined
  readonly webhookNetworks: readonly string[]
  readonly push: { readonly keys: { publicKey: string; privateKey: string } | undefined; readonly subject: string }
  readonly metricsToken: string | undefined
  /** Undefined: no statement is called slow. */
  readonly slowQueryMs: number | undefined
  readonly otlpEndpoint: string | undefined
  readonly logLevel: string
}

/**
 * Reads the environment, once, at the start. An empty variable counts as absent.
 * @throws Error naming each variable that cannot be used and why
 */
export function readConfig(environment: Record<string, string | undefined>): Config {
  const given = Object.fromEntries(Object.entries(environment).filter(([, value]) => value !== ''))
  const parsed = Environment.safeParse(given)
  if (!parsed.success) {
    const reasons = parsed.error.issues.map((issue) => `${issue.path.join('.')} ${issue.message}`)
    throw new Error(`the environment cannot be used: ${reasons.join('; ')}`)
  }
  const env = parsed.data
  refuseLonely(env)
  return {
    process: env.PROCESS,
    host: env.HOST,
    port: env.PORT,
    publicUrl: env.PUBLIC_URL,
    databaseUrl: env.DATABASE_URL,
    dataDir: env.DATA_DIR,
    connections: { service: env.SERVICE_CONNECTIONS, across: env.ACROSS_CONNECTIONS, own: env.OWN_CONNECTIONS },
    adminApiKey: env.ADMIN_API_KEY,
    organisationName: env.ORGANISATION_NAME,
    requestsPerMinute: env.RATE_LIMIT,
    trustProxy: env.TRUST_PROXY,
    sessionSecret: env.SESSION_SECRET,
    smtpUrl: env.SMTP_URL,
    mailFrom: env.MAIL_FROM,
    photoStore: env.PHOTO_STORE,
    webhookNetworks: env.WEBHOOK_NETWORKS ?? [],
    push: {
      keys: pushKeys(env.VAPID_PUBLIC_KEY, env.VAPID_PRIVATE_KEY),
      subject: env.VAPID_SUBJECT ?? mailto(env.MAIL_FROM),
    },
    metricsToken: env.METRICS_TOKEN,
    slowQueryMs: env.SLOW_QUERY_MS < 0 ? undefined : env.SLOW_QUERY_MS,
    otlpEndpoint: env.OTEL_EXPORTER_OTLP_ENDPOINT,
    logLevel: env.LOG_LEVEL,
  }
}

/** One process of several, without what makes them one service, would seem to work and then not know what the others know. */
function refuseLonely(env: z.infer<typeof Environment>): void {
  if (env.PROCESS === 'both') return
  const missing = Object.entries(NEEDED_APART).filter(([name]) => env[name as keyof typeof NEEDED_APART] === undefined)
  const reasons = missing.map(([name, reason]) => `PROCESS=${env.PROCESS} needs ${name}: ${reason}`)
  if (reasons.length > 0) throw new Error(`the environment cannot be used: ${reasons.join('; ')}`)
}

function pushKeys(publicKey: string | undefined, privateKey: string | undefined) {
  if (publicKey !== undefined && privateKey !== undefined) return { publicKey, privateKey }
  if (publicKey === undefined && privateKey === undefined) return undefined
  throw new Error('the environment cannot be used: VAPID_PUBLIC_KEY and VAPID_PRIVATE_KEY go together')
}

/** @example mailto('The yard <yard@example.org>') // 'mailto:yard@example.org' */
function mailto(from: string): string {
  return `mailto:${/<([^<>]+)>\s*$/.exec(from)?.[1] ?? from.trim()}`
}
