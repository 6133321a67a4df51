import { expect } from 'vitest'
import type { FindingItem } from '../../src/contract/findings.js'
import { FittedFleets } from '../../src/services/model/fitted-fleets.js'
import { RefitService } from '../../src/services/model/refit.js'
import { type Answer, type Ask, askAs } from './ask.js'
import { startTestServer, type TestServer } from './server.js'
import { fleetFiles, importFleet } from './small-fleet.js'

/** Net mass lost in the last interval by anode, in place of what it would have lost [g]. */
type Losses = Readonly<Record<string, number>>

/**
 * The small fleet, with berths on a pontoon and with other losses in the last interval of the anodes named ("Boat C/hull 3").
 *
 * @param at the day on which these anodes were weighed last
 */
export function faultyFleetFiles(ownerEmail: string, losses: Losses): Record<string, string> {
  const files = fleetFiles(ownerEmail)
  const weighings = files['weighings.csv']!.split('\n').map((line) => {
    const [boat, anode, day, mass, ...rest] = line.split(',')
    const loss = losses[`${boat}/${anode}`]
    return loss === undefined ? line : [boat, anode, day, mass && String(1080 - loss), ...rest].join(',')
  })
  const berths = ['berth,pontoon,water,shore_power', 'N1,N,salt,yes', 'N2,N,salt,yes', 'N3,S,salt,yes', 'N4,S,salt,yes']
  return { ...files, 'weighings.csv': weighings.join('\n'), 'berths.csv': `${berths.join('\n')}\n` }
}

/** The steps that people take, each with a body that is accepted. */
export const STEPS = {
  acknowledge: {},
  checks: { check: 'measure-contact', outcome: 'unclear', on: '2026-06-10' },
  resolve: { text: 'found a chafed feed and renewed it', on: '2026-06-10', cause: 'stray-current-onboard' },
  reopen: { note: 'it is back' },
}

/** A yard with the faulty fleet, another one on the same database, and who asks there. */
export interface FaultyYard {
  readonly server: TestServer
  readonly staff: Ask
  readonly manager: Ask
  readonly owner: Ask
  /** An administrator of the other yard. */
  readonly foreigner: Ask
  refit(): Promise<void>
  setNow(instant: string): void
  findings(query?: string): Promise<FindingItem[]>
  /** The finding of a boat by itself. */
  findingOf(boat: string): Promise<Answer>
  close(): Promise<void>
}

/** Both anodes of Boat C went fast in the last interval; one of Boat A, the test's owner's, hardly went at all. */
export const LOSSES = { 'Boat C/shaft 3': 900, 'Boat C/hull 3': 850, 'Boat A/hull 3': 10 }

/** Imported and fitted on 2026-06-15. */
export async function startFaultyYard(): Promise<FaultyYard> {
  let now = new Date('2026-06-15T10:00:00Z')
  const engine = new FittedFleets()
  const server = await startTestServer({ now: () => now })
  const abroad = await startTestServer({ database: server.database, now: () => now })
  const staff = askAs(server, await server.actorOf('staff'))
  const refit = () =>
    new RefitService(server.database.service, engine, () => now, 0).refit(server.organisationId, async () => {})
  const findings = async (query = ''): Promise<FindingItem[]> => {
    const { status, body } = await staff('GET', `/v1/findings${query}`)
    expect(status, JSON.stringify(body)).toBe(200)
    return body.items
  }
  await importFleet(server, faultyFleetFiles(server.ownerEmail, LOSSES))
  await refit()
  return {
    server,
    staff,
    manager: askAs(server, await server.actorOf('manager')),
    owner: askAs(server, await server.actorOf('owner')),
    foreigner: askAs(abroad, await abroad.actorOf('administrator')),
    refit,
    setNow: (instant) => {
      now = new Date(instant)
    },
    findings,
    findingOf: async (boat) => {
      const [item] = await findings(`?boat=${encodeURIComponent(boat)}`)
      return staff('GET', `/v1/findings/${item!.id}`)
    },
    close: async () => {
      await abroad.app.close()
      await server.close()
    },
  }
}

/** The kinds of the steps in the life of a finding, oldest first. */
export const kindsOf = ({ body }: Answer): string[] => body.events.map(({ kind }: { kind: string }) => kind)
