import { randomUUID } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { FastifyInstance } from 'fastify'
import type { Role } from '../../src/contract/vocabulary.js'
import { newestSchema } from '../../src/db/migrate.js'
import { members, organisations, owners } from '../../src/db/schema/index.js'
import { type AppOptions, buildApp } from '../../src/http/app.js'
import type { Mail, MailMessage } from '../../src/outside/mail.js'
import { folderPhotoStore, type PhotoStore } from '../../src/outside/photo-store.js'
import { AddressRules } from '../../src/outside/web/address-rules.js'
import { SendOut } from '../../src/outside/web/send-out.js'
import { packageVersion } from '../../src/project-root.js'
import { lastBackupAt } from '../../src/services/backup/last-backup.js'
import { buildServices, type Services } from '../../src/services/build-services.js'
import { FittedFleets } from '../../src/services/model/fitted-fleets.js'
import { createTestDatabase, type TestDatabase } from '../database/test-database.js'
import { RecordedRefits } from './recorded-refits.js'

/** Headers that make a request somebody's. */
export type Credentials = Record<string, string>

export interface TestServer {
  readonly app: FastifyInstance
  readonly database: TestDatabase
  readonly services: Services
  /** The organisation that `actorOf` acts in. */
  readonly organisationId: string
  /** The address of the person with the role owner; boats whose owner has it are theirs. */
  readonly ownerEmail: string
  /** Letters that were sent, oldest first. */
  readonly letters: MailMessage[]
  /** Who asked for new forecasts, oldest first. */
  readonly refits: RecordedRefits
  /** Somebody with this role: a program's key, for an owner a person's session. */
  actorOf(role: Role): Promise<Credentials>
  /** A person who signs in by the link in their letter; gives the cookies of the session. */
  signIn(email: string): Promise<Credentials>
  close(): Promise<void>
}

export interface TestServerOptions extends Partial<Omit<AppOptions, 'services'>> {
  /** A database that the caller made and closes. */
  readonly database?: TestDatabase
  readonly now?: () => Date
  /** Where letters go; kept in `letters` unless given. */
  readonly mail?: Mail
  /** Where photos lie; a folder of its own unless given. */
  readonly photoStore?: PhotoStore
  /** Networks of one's own that may be sent to; none unless given. */
  readonly networks?: readonly string[]
}

const SECRET = 'a secret of the tests alone, never used elsewhere'

/** The service around a database that may well be empty, as a first start finds it; requests are injected. */
export async function buildTestService(database: TestDatabase, options: TestServerOptions = {}) {
  const {
    database: _given,
    now = () => new Date(),
    networks = [],
    mail,
    photoStore,
    publicUrl = 'http://localhost:3000',
    ...appOptions
  } = options
  const letters: MailMessage[] = []
  const refits = new RecordedRefits()
  const photoFolder = mkdtempSync(join(tmpdir(), 'photos-'))
  const services = buildServices({
    db: database.service,
    across: database.across,
    publicUrl,
    sessionSecret: SECRET,
    mail: mail ?? { send: async (message) => void letters.push(message) },
    photoStore: photoStore ?? folderPhotoStore(photoFolder),
    push: { keys: undefined, subject: 'mailto:yard@example.org' },
    sendOut: new SendOut(new AddressRules(networks)),
    now,
    refits,
    engine: new FittedFleets(),
    installation: {
      version: packageVersion(),
      startedAt: now(),
      database: { kind: database.kind, ...newestSchema() },
      photoStore: 'folder',
      mailServer: true,
      lastBackupAt: () => lastBackupAt(photoFolder),
    },
    onFailure: (error) => {
      throw error
    },
  })
  const app = await buildApp({ version: packageVersion(), ...appOptions, services, publicUrl })
  app.addHook('onClose', async () => rmSync(photoFolder, { recursive: true, force: true }))
  return { app, services, letters, refits }
}

/** The whole service with an organisation, on a database of its own. */
export async function startTestServer(options: TestServerOptions = {}): Promise<TestServer> {
  const database = options.database ?? (await createTestDatabase())
  const service = await buildTestService(database, options)
  const { app, services, letters } = service
  const organisationId = await addOrganisation(database)
  const ownerEmail = `owner-${randomUUID().slice(0, 8)}@example.org`
  await database.db.insert(owners).values({ organisationId, name: 'Test owner', email: ownerEmail })
  const signIn = (email: string) => followLink(app, letters, email)
  const known = new Map<Role, Credentials>()
  return {
    ...service,
    database,
    organisationId,
    ownerEmail,
    signIn,
    actorOf: async (role) => {
      const credentials = known.get(role) ?? (role === 'owner' ? await signIn(ownerEmail) : await makeKey(role))
      known.set(role, credentials)
      return credentials
    },
    close: async () => {
      await app.close()
      if (!options.database) await database.close()
    },
  }

  async function makeKey(role: Exclude<Role, 'owner'>): Promise<Credentials> {
    const acting = { organisationId, role: 'administrator' as const, actor: 'test:set-up' }
    const { secret } = await services.apiKeys.create(acting, { name: `test ${role}`, role })
    return { authorization: `Bearer ${secret}` }
  }
}

/** An organisation with one person in each role: `administrator@…`, `manager@…` and so on are its members. */
async function addOrganisation(database: TestDatabase): Promise<string> {
  const [made] = await database.db.insert(organisations).values({ name: 'Test yard' }).returning()
  if (!made) throw new Error('the organisation was not inserted')
  await database.db
    .insert(members)
    .values(
      (['administrator', 'manager', 'staff'] as const).map((role) => ({
        organisationId: made.id,
        email: `${role}@example.org`,
        role,
      })),
    )
    .onConflictDoNothing()
  return made.id
}

async function followLink(app: FastifyInstance, letters: MailMessage[], email: string): Promise<Credentials> {
  const before = letters.length
  await app.inject({ method: 'POST', url: '/v1/auth/sign-in/magic-link', payload: { email } })
  const link = await untilLink(letters, before)
  const token = link.searchParams.get('token')
  const followed = await app.inject({ method: 'POST', url: '/v1/auth/magic-link/verify', payload: { token } })
  const cookies = followed.cookies.map(({ name, value }) => `${name}=${encodeURIComponent(value)}`)
  if (cookies.length === 0)
    throw new Error(`the link did not sign ${email} in: ${followed.statusCode} ${followed.body}`)
  return { cookie: cookies.join('; ') }
}

/** Letters are sent behind the answer's back. */
async function untilLink(letters: readonly MailMessage[], before: number): Promise<URL> {
  for (let attempt = 0; attempt < 200; attempt++) {
    const link = letters[before]?.text.match(/https?:\S+/)?.[0]
    if (link) return new URL(link)
    await new Promise((resolve) => setTimeout(resolve, 10))
  }
  throw new Error('no letter came')
}
