import { mkdtempSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect } from 'vitest'
import { runBackupCommand } from '../../src/commands/backup.js'
import { KEY, type RunningProcess, startProcess } from '../process/running-process.js'
import { allPages } from './kill-rounds.js'
import { type Acknowledged, ANODES, addBoats, attempt, LIFT_BOATS, WRITERS } from './writers.js'

const FEWEST_WRITES = 30

/** Where the service and the one that is restored have their data. */
export interface Places {
  readonly source: Record<string, string>
  readonly target: Record<string, string>
}

/**
 * A backup by the command while all write, restored by the command into another place, where the service is started: it has all that was
 * acknowledged before the backup began, and each haul-out with its weighings.
 */
export async function backUpUnderLoad({ source, target }: Places): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'anode-ledger-backups-'))
  const kept = join(folder, 'first')
  const service = await startProcess({ ...source, ADMIN_API_KEY: KEY })
  try {
    await addBoats(service)
    const { before, during } = await writeWhile(service, async () => {
      expect(await command('backup', [kept], source)).toMatchObject({ code: 0, err: '' })
    })
    expect(during.length).toBeGreaterThan(0)
    // The secrets of sessions and webhooks are in there.
    expect(statSync(kept).mode & 0o077).toBe(0)
    expect(await command('restore', [kept], source)).toMatchObject({ code: 1 })
    await service.stop('SIGTERM')
    expect(await command('restore', [kept, '--check'], target)).toMatchObject({ code: 0 })
    expect(await command('restore', [kept], target)).toMatchObject({ code: 0, err: '' })
    const restored = await startProcess(target)
    try {
      await expectAll(restored, before)
      await expectWholeLifts(restored)
      // What came too late for the backup can be sent again: nothing that was kept is in its way.
      for (const write of during) expect([200, 201, 409]).toContain((await attempt(restored, write))?.status)
    } finally {
      await restored.stop('SIGTERM')
    }
    console.log(`a backup under load: ${before.length} writes before it, none lost; ${during.length} meanwhile`)
  } finally {
    await service.stop('SIGKILL')
    rmSync(folder, { recursive: true, force: true })
  }
}

async function writeWhile(service: RunningProcess, backUp: () => Promise<void>) {
  const before: Acknowledged[] = []
  const during: Acknowledged[] = []
  let begun = false
  let isDone = false
  const write = async (writer: (typeof WRITERS)[number], index: number) => {
    for (let n = 0; !isDone; n++) {
      const one = { ...writer(n), key: `writer ${index} write ${n}` }
      const answer = await attempt(service, one)
      expect(answer?.status).toBe(201)
      const list = begun ? during : before
      list.push({ ...one, answer: answer?.body })
    }
  }
  const writers = Promise.all(WRITERS.map(write))
  const enough = async () => {
    while (before.length < FEWEST_WRITES) await new Promise((resolve) => setTimeout(resolve, 5))
    begun = true
    await backUp()
  }
  try {
    await Promise.race([enough(), writers])
  } finally {
    isDone = true
    await writers
  }
  return { before, during }
}

async function command(name: 'backup' | 'restore', args: readonly string[], environment: Record<string, string>) {
  let out = ''
  let err = ''
  const code = await runBackupCommand(name, args, environment, {
    out: { write: (text: string) => (out += text) },
    err: { write: (text: string) => (err += text) },
  })
  return { code, out, err }
}

async function expectAll(service: RunningProcess, written: readonly Acknowledged[]): Promise<void> {
  const rows = new Set<string>()
  for (const path of ['boats', 'weighings', 'haul-outs']) {
    for (const { id } of await itemsOf(service, path)) rows.add(id)
  }
  expect(written.filter(({ answer }) => !rows.has(answer.id))).toEqual([])
}

async function expectWholeLifts(service: RunningProcess): Promise<void> {
  const weighings = await itemsOf(service, 'weighings')
  for (const { boat, hauledOn } of await itemsOf(service, 'haul-outs')) {
    if (!LIFT_BOATS.some((name) => name === boat)) continue
    const own = weighings.filter((each) => each.boat === boat && each.weighedOn === hauledOn)
    expect(own).toHaveLength(ANODES.length)
  }
}

const itemsOf = async (service: RunningProcess, rows: string) => (await allPages(service, `/v1/${rows}`)) as Item[]

interface Item {
  readonly id: string
  readonly boat: string
  readonly hauledOn: string
  readonly weighedOn: string
}
