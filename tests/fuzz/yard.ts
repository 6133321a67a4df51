import { and, eq, inArray } from 'drizzle-orm'
import { boats, members, owners } from '../../src/db/schema/index.js'
import { FittedFleets } from '../../src/services/model/fitted-fleets.js'
import { RefitService } from '../../src/services/model/refit.js'
import { createOrganisation } from '../database/test-database.js'
import { faultyFleetFiles, LOSSES } from '../http/faulty-fleet.js'
import { type Credentials, startTestServer, type TestServer } from '../http/server.js'
import { importFleet } from '../http/small-fleet.js'
import type { Asker } from './plans.js'

/** The day on which the fleet of the tests has its findings. */
const NOW = new Date('2026-06-15T10:00:00Z')
/** Requests of people come from the service's own pages. */
const OWN_PAGE = { origin: 'http://localhost:3000' }

/** A service with a fleet, a fitted model and findings, that any number of requests may spoil. */
export interface FuzzedYard {
  readonly server: TestServer
  /** Brings back what requests have destroyed, fleet and members, and gives everybody new credentials. */
  renew(): Promise<Record<Asker, Credentials>>
  close(): Promise<void>
}

export async function startFuzzedYard(): Promise<FuzzedYard> {
  const server = await startTestServer({ now: () => NOW, demo: true })
  const abroad = await createOrganisation(server.database.db, 'administrator', 'Yard abroad')
  await importFleet(server, faultyFleetFiles(server.ownerEmail, LOSSES))
  await new RefitService(server.database.service, new FittedFleets(), () => NOW, 0).refit(
    server.organisationId,
    async () => {},
  )
  return {
    server,
    renew: async () => {
      await restorePeople(server)
      await restoreFleet(server)
      const { organisationId } = server
      return {
        administrator: await keyOf(server, organisationId, 'administrator'),
        manager: await keyOf(server, organisationId, 'manager'),
        staff: await keyOf(server, organisationId, 'staff'),
        owner: await inPerson(server, server.ownerEmail),
        'administrator in person': await inPerson(server, 'administrator@example.org'),
        'staff in person': await inPerson(server, 'staff@example.org'),
        foreigner: await keyOf(server, abroad.organisationId, 'administrator'),
        nobody: {},
      }
    },
    close: () => server.close(),
  }
}

/** What requests have added may contradict the files, a stay at another berth say: then the boats begin anew. */
async function restoreFleet(server: TestServer): Promise<void> {
  const files = faultyFleetFiles(server.ownerEmail, LOSSES)
  try {
    await importFleet(server, files)
  } catch {
    await server.database.db.delete(boats).where(eq(boats.organisationId, server.organisationId))
    await importFleet(server, files)
  }
}

async function restorePeople({ database, organisationId, ownerEmail }: TestServer): Promise<void> {
  const people = (['administrator', 'manager', 'staff'] as const).map((role) => ({
    organisationId,
    email: `${role}@example.org`,
    role,
  }))
  const addresses = people.map(({ email }) => email)
  await database.db
    .delete(members)
    .where(and(eq(members.organisationId, organisationId), inArray(members.email, addresses)))
  await database.db.insert(members).values(people)
  await database.db
    .insert(owners)
    .values({ organisationId, name: 'Test owner', email: ownerEmail })
    .onConflictDoNothing()
}

async function keyOf(
  { services }: TestServer,
  organisationId: string,
  role: 'administrator' | 'manager' | 'staff',
): Promise<Credentials> {
  const acting = { organisationId, role: 'administrator' as const, actor: 'test:fuzz' }
  const { secret } = await services.apiKeys.create(acting, { name: `fuzz ${role}`, role })
  return { authorization: `Bearer ${secret}` }
}

/** Other letters may be under way at that moment, to whom a request wrote: then once more. */
async function inPerson(server: TestServer, email: string, attempts = 5): Promise<Credentials> {
  try {
    return { ...(await server.signIn(email)), ...OWN_PAGE }
  } catch (error) {
    if (attempts === 1) throw error
    return inPerson(server, email, attempts - 1)
  }
}
