import { randomUUID } from 'node:crypto'
import { existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { TestProject } from 'vitest/node'

const POLL_MS = 100
const LIMIT_MS = 360_000

declare module 'vitest' {
  export interface ProvidedContext {
    /** Where this run keeps the fleet that the browser tests begin with, loaded and fitted once. */
    fleetTemplates: string
  }
}

/** What each service of the browser tests is a copy of. */
export interface FleetTemplate {
  /** The administrator's key, which the data know. */
  readonly key: string
  /** The data folder to copy, stopped. */
  readonly dataDir: string
  /** On a server, the database to copy; it has the organisation's rows, the folder then only files. */
  readonly database: string | null
}

/** Once for the whole run: a folder for the templates; the first test that needs one makes it. */
export default function provideFolder(project: TestProject): () => void {
  const folder = mkdtempSync(join(tmpdir(), 'anode-ledger-fleets-'))
  project.provide('fleetTemplates', folder)
  return () => rmSync(folder, { recursive: true, force: true })
}

/**
 * The template of a day, made by the first who asks, while others wait: an import and its fit take longer than the tests
 * of a page.
 */
export async function fleetTemplate(
  folder: string,
  day: string,
  make: (dataDir: string, key: string) => Promise<string | null>,
): Promise<FleetTemplate> {
  const place = join(folder, day)
  const ready = join(place, 'ready.json')
  if (isFirst(place)) {
    const key = randomUUID()
    const dataDir = join(place, 'data')
    const outcome = await make(dataDir, key).then(
      (database) => ({ key, dataDir, database }),
      (error: unknown) => ({ failed: String(error) }),
    )
    writeFileSync(join(place, 'made.json'), JSON.stringify(outcome))
    renameSync(join(place, 'made.json'), ready)
  }
  const until = Date.now() + LIMIT_MS
  while (!existsSync(ready)) {
    if (Date.now() > until) throw new Error(`no fleet to copy after ${LIMIT_MS / 1000} s`)
    await new Promise((resolve) => setTimeout(resolve, POLL_MS))
  }
  const made = JSON.parse(readFileSync(ready, 'utf8')) as FleetTemplate | { failed: string }
  if ('failed' in made) throw new Error(`the fleet to copy was not made: ${made.failed}`)
  return made
}

/** A folder can be made once only, so that the one who makes it knows. */
function isFirst(place: string): boolean {
  try {
    mkdirSync(place)
    return true
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false
    throw error
  }
}
