import { setTimeout as wait } from 'node:timers/promises'
import type { ImportAnswer } from '../../src/contract/imports.js'
import type { JobView } from '../../src/contract/jobs.js'
import type { ServiceClient } from './client.js'

/** People of the harbour office; owners come with the boats. */
const PEOPLE = [
  { email: 'lift.crew@example.org', role: 'staff' },
  { email: 'fleet.desk@example.org', role: 'manager' },
]
const POLL_MS = 300

/** Imports the fleet, invites the people, and waits until the first forecasts are issued. */
export async function loadFleet(client: ServiceClient, fleet: ReadonlyMap<string, string>): Promise<void> {
  const form = new FormData()
  for (const [name, text] of fleet) form.append('file', new Blob([text], { type: 'text/csv' }), name)
  const { refit } = await client.post<ImportAnswer>('/v1/imports', form)
  for (const person of PEOPLE) await client.post('/v1/members', person)
  if (refit !== null) await untilOver(client, refit.id)
  // The letters go nowhere: the demo has no mail server. What they say, and to whom, is on the page of letters.
  await client.patch('/v1/reminders', { enabled: true })
}

async function untilOver(client: ServiceClient, id: string): Promise<void> {
  for (;;) {
    const job = await client.get<JobView>(`/v1/jobs/${id}`)
    if (job.state === 'completed') return
    if (job.state === 'failed') throw new Error(`the first fit failed: ${job.error}`)
    await wait(POLL_MS)
  }
}
