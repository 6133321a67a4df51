import { expect } from 'vitest'
import type { TestServer } from './server.js'

/** Twelve boats at four berths, each with two anodes replaced yearly; the first boat belongs to the test's owner. */
export function fleetFiles(ownerEmail: string): Record<string, string> {
  const boats = Array.from({ length: 12 }, (_, index) => `Boat ${String.fromCharCode(65 + index)}`)
  const files: Record<string, string[]> = {
    'berths.csv': ['berth,water', ...['N1', 'N2', 'N3', 'N4'].map((berth) => `${berth},salt`)],
    'boats.csv': ['boat,owner_name,owner_email'],
    'stays.csv': ['boat,from,to,berth'],
    'anodes.csv': ['boat,anode,position,alloy,fitted_on,removed_on,gross_mass_g,core_mass_g'],
    'weighings.csv': ['boat,anode,weighed_on,mass_g,resolution_g,cleaned'],
    'haul-outs.csv': ['boat,on,planned', 'Boat A,2026-09-01,yes'],
  }
  boats.forEach((boat, index) => {
    files['boats.csv']!.push(`${boat},Somebody,${index === 0 ? ownerEmail : 'other@example.org'}`)
    files['stays.csv']!.push(`${boat},2023-03-01,,N${1 + (index % 4)}`)
    for (const position of ['shaft', 'hull']) {
      const fitted = ['2023-04-01', '2024-04-03', '2025-04-02']
      fitted.forEach((day, life) => {
        const removed = fitted[life + 1] ?? ''
        files['anodes.csv']!.push(`${boat},${position} ${life + 1},${position},zinc,${day},${removed},1080,80`)
        const loss = 300 + 25 * index + 12 * life + (position === 'shaft' ? 60 : 0)
        files['weighings.csv']!.push(`${boat},${position} ${life + 1},${removed || '2026-03-20'},${1080 - loss},1,yes`)
      })
    }
  })
  return Object.fromEntries(Object.entries(files).map(([name, lines]) => [name, `${lines.join('\n')}\n`]))
}

/** Loads files as a program of the manager's would. */
export async function importFleet(server: TestServer, files: Record<string, string>): Promise<void> {
  const form = new FormData()
  for (const [name, text] of Object.entries(files)) form.append('file', new Blob([text]), name)
  const body = new Response(form)
  const answer = await server.app.inject({
    method: 'POST',
    url: '/v1/imports',
    headers: { ...(await server.actorOf('manager')), 'content-type': body.headers.get('content-type') ?? '' },
    payload: Buffer.from(await body.arrayBuffer()),
  })
  expect(answer.statusCode, answer.body).toBe(200)
}
