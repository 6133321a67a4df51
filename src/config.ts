import { z } from 'zod'

const Environment = z.object({
  HOST: z.string().min(1).default('127.0.0.1'),
  PORT: z.coerce.number().int().min(0).max(65_535).default(3000),
  /** How people reach the service from outside; links in mail begin with it. */
  PUBLIC_URL: z.url().optional(),
  DATABASE_URL: z.string().min(1).optional(),
  DATA_DIR: z.string().min(1).default('./data'),
  ADMIN_API_KEY: z.string().min(1).optional(),
  /** Name of the organisation that is made at a first start with ADMIN_API_KEY. */
  ORGANISATION_NAME: z.string().trim().min(1).max(200).default('My organisation'),
  /** Requests a minute that one key or person may send; 0 means no limit. */
  RATE_LIMIT: z.coerce.number().int().min(0).default(12_000),
  /** Signs the sessions' cookies; without it one is made and kept in DATA_DIR. */
  SESSION_SECRET: z.string().min(32, 'must have at least 32 characters').optional(),
  SMTP_URL: z.string().min(1).optional(),
  MAIL_FROM: z.string().min(3).default('anode-ledger@localhost'),
  /** s3://bucket?endpoint=…&region=…: photos go there; without it under DATA_DIR. */
  PHOTO_STORE: z.string().min(1).optional(),
  LOG_LEVEL: z.enum(['fatal', 'error', 'warn', 'info', 'debug', 'trace', 'silent']).default('info'),
})

export interface Config {
  readonly host: string
  readonly port: number
  readonly publicUrl: string | undefined
  readonly databaseUrl: string | undefined
  readonly dataDir: string
  readonly adminApiKey: string | undefined
  readonly organisationName: string
  readonly requestsPerMinute: number
  readonly sessionSecret: string | undefined
  readonly smtpUrl: string | undefined
  readonly mailFrom: string
  readonly photoStore: string | undefined
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
  return {
    host: env.HOST,
    port: env.PORT,
    publicUrl: env.PUBLIC_URL,
    databaseUrl: env.DATABASE_URL,
    dataDir: env.DATA_DIR,
    adminApiKey: env.ADMIN_API_KEY,
    organisationName: env.ORGANISATION_NAME,
    requestsPerMinute: env.RATE_LIMIT,
    sessionSecret: env.SESSION_SECRET,
    smtpUrl: env.SMTP_URL,
    mailFrom: env.MAIL_FROM,
    photoStore: env.PHOTO_STORE,
    logLevel: env.LOG_LEVEL,
  }
}
