import { setTimeout as wait } from 'node:timers/promises'
import type { z } from 'zod'
import type { AnodePage as AnodePageSchema } from '../../src/contract/anodes.js'
import type { ImportAnswer } from '../../src/contract/imports.js'
import type { JobView } from '../../src/contract/jobs.js'
import type { PontoonDrawing } from '../../src/contract/pontoon-drawing.js'
import type { Part } from '../../src/engine/planning/count-parts.js'
import { harbourDrawing } from '../scenario/pontoon-drawing.js'
import { priceList } from '../scenario/prices.js'
import type { ServiceClient } from './client.js'

type AnodePage = z.infer<typeof AnodePageSchema>

/** People of the harbour office; owners come with the boats. */
const PEOPLE = [
  { email: 'lift.crew@example.org', role: 'staff' },
  { email: 'fleet.desk@example.org', role: 'manager' },
]
const POLL_MS = 300

/** Imports the fleet, invites the people, enters the prices, draws the pontoons, and waits until the first forecasts are issued. */
export async function loadFleet(client: ServiceClient, fleet: ReadonlyMap<string, string>): Promise<void> {
  const form = new FormData()
  for (const [name, text] of fleet) form.append('file', new Blob([text], { type: 'text/csv' }), name)
  const { refit } = await client.post<ImportAnswer>('/v1/imports', form)
  for (const person of PEOPLE) await client.post('/v1/members', person)
  await client.put('/v1/prices', 0, priceList(await fittedParts(client), utcToday()))
  const drawing = await client.get<PontoonDrawing>('/v1/pontoons/drawing')
  await client.put('/v1/pontoons/drawing', drawing.version, harbourDrawing(drawing))
  if (refit !== null) await untilOver(client, refit.id)
  // The letters go nowhere: the demo has no mail server. What they say, and to whom, is on the page of letters.
  await client.patch('/v1/reminders', { enabled: true })
}

const utcToday = () => new Date().toISOString().slice(0, 10)

async function fittedParts(client: ServiceClient): Promise<Part[]> {
  const parts: Part[] = []
  let cursor: string | null = ''
  while (cursor !== null) {
    const page: AnodePage = await client.get(`/v1/anodes?${new URLSearchParams({ limit: '200', cursor })}`)
    parts.push(...page.items.map(({ alloy, shape, grossMassG }) => ({ alloy, shape, massG: grossMassG })))
    cursor = page.nextCursor
  }
  return parts
}

async function untilOver(client: ServiceClient, id: string): Promise<void> {
  for (;;) {
    const job = await client.get<JobView>(`/v1/jobs/${id}`)
    if (job.state === 'completed') return
    if (job.state === 'failed') throw new Error(`the first fit failed: ${job.error}`)
    await wait(POLL_MS)
  }
}
