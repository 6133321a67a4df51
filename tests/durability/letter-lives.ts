import { sql } from 'drizzle-orm'
import { type ParsedMail, simpleParser } from 'mailparser'
import { expect, it } from 'vitest'
import { type DatabaseConfig, openDatabase } from '../../src/db/client.js'
import { Uniform } from '../engine/simulated-fleet.js'
import { OPEN_TO_ALL, startMailServer } from '../outside/mail-server.js'
import { KEY, type RunningProcess, startProcess } from '../process/running-process.js'
import { largeFleet } from './large-fleet.js'

/** LONG=1 asks for as many as a release rests on. */
const KILLS = process.env.LONG === '1' ? 10 : 5
/** Several letters a kill. */
const BOATS = 8 * KILLS
const LIMIT_MS = 600_000
const WAIT_LIMIT_MS = 240_000
const POLL_MS = 10
/** How long the mail server takes to say that it has a letter, and how long after one a kill comes: inside conversations and between them. */
const LONGEST_THOUGHT_MS = 60
const LONGEST_WAIT_MS = 300
const START = 811

/**
 * Letters of a fleet while the service that sends them is killed again and again, and the mail server is slow.
 *
 * @param surroundings called once the tests run: where the database is
 */
export function sendThroughKills(surroundings: () => DatabaseConfig): void {
  const today = new Date().toISOString().slice(0, 10)

  it('reach each owner once, though the sender is killed while it sends', { timeout: LIMIT_MS }, async () => {
    const random = new Uniform(START)
    const taken: ParsedMail[] = []
    const smtp = await startMailServer(async (letter) => {
      taken.push(await simpleParser(letter))
      await pause(random.next() * LONGEST_THOUGHT_MS)
    }, OPEN_TO_ALL)
    const { databaseUrl, dataDir } = surroundings()
    const environment = {
      DATA_DIR: dataDir,
      ADMIN_API_KEY: KEY,
      SMTP_URL: `smtp://${smtp.host}`,
      ...(databaseUrl && { DATABASE_URL: databaseUrl }),
    }
    try {
      let service = await startProcess(environment)
      await importFitted(service, today)
      await remind(service, { leadDays: 365, quietFrom: 0, quietTo: 0 })
      const due = (await service.send('GET', '/v1/notices/preview?days=1')).body.items.map(({ to }: Sent) => to)
      expect(due.length).toBeGreaterThan(4 * KILLS)
      await remind(service, { enabled: true })
      for (let kill = 0; kill < KILLS; kill++) {
        const enough = taken.length + 1 + Math.floor(random.next() * 3)
        await until(async () => taken.length >= enough)
        await pause(random.next() * LONGEST_WAIT_MS)
        await service.stop('SIGKILL')
        await endLeases(surroundings())
        service = await startProcess(environment)
      }
      await until(async () => (await letters(service, 'waiting')).length === 0)
      const sent = await letters(service, 'sent')
      expect(await service.stop('SIGTERM')).toBe(0)
      expectOnceEach(due, sent, taken)
    } finally {
      await smtp.close()
    }
  })
}

interface Sent {
  readonly id: string
  readonly to: string
}

async function remind(service: RunningProcess, change: object): Promise<void> {
  expect((await service.send('PATCH', '/v1/reminders', change)).status).toBe(200)
}

function expectOnceEach(due: readonly string[], sent: readonly Sent[], taken: readonly ParsedMail[]): void {
  // Each boat is somebody else's: one letter an owner was decided, however often the deciding process came back.
  expect(sent.map(({ to }) => to).toSorted()).toEqual(due.toSorted())
  const ids = taken.map(({ messageId }) => messageId!.match(/notice\.([0-9a-f-]+)@/)![1]!)
  expect([...new Set(ids)].toSorted()).toEqual(sent.map(({ id }) => id).toSorted())
  // What SMTP cannot exclude: killed after the server had it, before that was noted. It bears the same Message-ID then.
  const again = ids.length - sent.length
  console.log(`${KILLS} kills, ${sent.length} letters, ${again} of them a second time under the same Message-ID`)
  expect(again).toBeLessThanOrEqual(KILLS)
}

async function importFitted(service: RunningProcess, today: string): Promise<void> {
  const { status, body } = await service.send('POST', '/v1/imports', largeFleet(BOATS, today))
  expect(status, JSON.stringify(body)).toBe(200)
  await until(async () => (await service.send('GET', `/v1/jobs/${body.refit.id}`)).body.state === 'completed')
}

async function letters(service: RunningProcess, state: string): Promise<Sent[]> {
  const { status, body } = await service.send('GET', `/v1/notices?state=${state}&limit=200`)
  expect(status).toBe(200)
  return body.items
}

/** Sets back what a sender that is gone holds, as if the time that makes it lost had passed. */
async function endLeases(config: DatabaseConfig): Promise<void> {
  const database = await openDatabase(config)
  try {
    await database.db.execute(sql`update notices set next_attempt_at = now() where state = 'waiting' and attempts > 0`)
  } finally {
    await database.close()
  }
}

async function until(isSo: () => Promise<boolean>): Promise<void> {
  const deadline = Date.now() + WAIT_LIMIT_MS
  while (!(await isSo())) {
    if (Date.now() > deadline) throw new Error(`not so after ${WAIT_LIMIT_MS} ms`)
    await pause(POLL_MS)
  }
}

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))
