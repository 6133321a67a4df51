import { createOrganisation } from '../database/test-database.js'
import { type ActorName, fillYard, TODAY, type Yard } from '../http/access-matrix/two-yards.js'
import { type Credentials, startTestServer, type TestServer } from '../http/server.js'
import type { Asker } from './plans.js'

const NOW = new Date(`${TODAY}T10:00:00Z`)
/** Requests of people come from the service's own pages. */
const OWN_PAGE = { origin: 'http://localhost:3000' }

const KEYS: Readonly<Partial<Record<Asker, ActorName>>> = {
  administrator: 'key of an administrator',
  manager: 'key of a manager',
  staff: 'key of staff',
}
const PEOPLE: Readonly<Partial<Record<Asker, ActorName>>> = {
  owner: 'owner',
  'administrator in person': 'administrator',
  'staff in person': 'staff',
}

/** An organisation with one of everything, who may ask about it, and by which names. */
export interface Round {
  readonly askers: Readonly<Record<Asker, Credentials>>
  readonly boat: string
  /** What may stand for a parameter of a path, by the parameter; all of it hangs together, so that a boat has the anode. */
  readonly steps: Readonly<Record<string, readonly string[]>>
}

/** A service with findings, letters and webhooks, that any number of requests may spoil. */
export interface FuzzedYard {
  readonly server: TestServer
  /** Another organisation, for the one before has been spoilt. */
  renew(): Promise<Round>
  close(): Promise<void>
}

export async function startFuzzedYard(): Promise<FuzzedYard> {
  const server = await startTestServer({ now: () => NOW, demo: true })
  const abroad = await createOrganisation(server.database.db, 'administrator', 'Yard abroad')
  const acting = { organisationId: abroad.organisationId, role: 'administrator' as const, actor: 'test:fuzz' }
  const { secret } = await server.services.apiKeys.create(acting, { name: 'fuzz abroad', role: 'administrator' })
  let rounds = 0
  return {
    server,
    renew: async () => {
      const yard = await fillYard(server, `Round${++rounds}`)
      const askers = { ...credentialsOf(yard), foreigner: { authorization: `Bearer ${secret}` }, nobody: {} }
      return { askers: askers as Round['askers'], boat: yard.things.boat[0], steps: stepsOf(yard) }
    },
    close: () => server.close(),
  }
}

function credentialsOf({ credentials }: Yard): Partial<Record<Asker, Credentials>> {
  const keys = Object.entries(KEYS).map(([asker, actor]) => [asker, credentials[actor]])
  const people = Object.entries(PEOPLE).map(([asker, actor]) => [asker, { ...credentials[actor], ...OWN_PAGE }])
  return Object.fromEntries([...keys, ...people])
}

/** Three lists call theirs `{id}`: those go by the list. */
function stepsOf({ things, calendar, letter }: Yard): Record<string, readonly string[]> {
  const named = Object.entries(things).map(([resource, names]) => [resource, names.flatMap((name) => name ?? [])])
  return {
    ...Object.fromEntries(named),
    'api-keys': [things.key[0]],
    members: [things.member[0]],
    jobs: [things.job[0]],
    calendars: [calendar],
    token: [letter],
  }
}
