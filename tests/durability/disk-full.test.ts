import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import { findServerBinaries, type LocalServer, startLocalServer } from '../database/local-server.js'
import { KEY, type ProcessAnswer, type RunningProcess, startProcess } from '../process/running-process.js'
import { jpegOf } from '../services/photos/images.js'
import { allPages } from './kill-rounds.js'
import { makeSmallDisk } from './small-disk.js'
import { ANODES, addBoats, attempt, LIFT_BOATS, WRITERS, type Write } from './writers.js'

const LIMIT_MS = 300_000
const RECOVERY = { timeout: 120_000, interval: 250 }
const REFUSALS = 30

const binaries = findServerBinaries()
const disk = binaries === undefined ? undefined : makeSmallDisk()
if (disk === undefined) {
  console.log(
    "a full disk is not tried: it needs PostgreSQL's programs, and the right to mount or a small /dev/shm, as containers have",
  )
}

describe.skipIf(binaries === undefined || disk === undefined)('on a full disk the service', () => {
  const folder = disk?.folder ?? ''
  let postgres: LocalServer
  let service: RunningProcess
  const taken: { write: Write; id: string }[] = []
  const refused: Write[] = []
  let refit: string

  beforeAll(async () => {
    const tables = join(folder, 'tables')
    mkdirSync(tables)
    postgres = await startLocalServer(binaries!, tables)
    service = await startProcess({
      DATABASE_URL: postgres.url,
      DATA_DIR: join(folder, 'data'),
      RATE_LIMIT: '0',
      ADMIN_API_KEY: KEY,
    })
    await addBoats(service)
  }, LIMIT_MS)
  afterAll(async () => {
    await service?.stop('SIGKILL')
    await postgres?.stop()
    disk?.remove()
  })

  const photoOf = async () => {
    const form = new FormData()
    form.append('photo', new Blob([new Uint8Array(await jpegOf(600, 400, 1))]), 'bow.jpg')
    return form
  }

  function expectFull(answer: ProcessAnswer | undefined): void {
    expect(answer, service.output()).toMatchObject({ status: 507, body: { status: 507 } })
    expect(answer?.headers.get('content-type')).toContain('application/problem+json')
    expect(answer?.body.detail).toBe('the disk of the service is full: nothing was written')
  }

  async function sendAll(writes: readonly Write[]): Promise<void> {
    for (const write of writes) {
      const answer = await attempt(service, write)
      if (answer?.status === 201) {
        taken.push({ write, id: answer.body.id })
        refit = answer.body.refit?.id ?? refit
      } else {
        expectFull(answer)
        refused.push(write)
      }
    }
  }

  it('refuses with 507 what needs room, and reads on', { timeout: LIMIT_MS }, async () => {
    const lift = await service.send('POST', `/v1/boats/${encodeURIComponent(LIFT_BOATS[0])}/haul-outs`, {
      hauledOn: '2012-06-01',
    })
    expect(lift.status).toBe(201)
    const photos = `/v1/haul-outs/${lift.body.id}/photos`
    disk?.fill()
    expectFull(await service.send('POST', photos, await photoOf()))
    for (let n = 200; refused.length < REFUSALS; n++) {
      await sendAll(WRITERS.map((writer, index) => ({ ...writer(n), key: `writer ${index} write ${n}` })))
    }
    expect((await service.send('GET', '/v1/boats?limit=10')).status).toBe(200)
    await expectTaken()
    disk?.free()
    await vi.waitFor(
      async () => expect((await service.send('POST', photos, await photoOf())).status).toBe(201),
      RECOVERY,
    )
    const { body } = await service.send('GET', `/v1/boats/${encodeURIComponent(LIFT_BOATS[0])}/photos`)
    expect(body.items).toHaveLength(1)
  })

  it('takes what it refused once there is room again, and nothing is lost or there twice', {
    timeout: LIMIT_MS,
  }, async () => {
    const again = refused.splice(0)
    await sendAll(again)
    expect(refused).toEqual([])
    await expectTaken()
    await vi.waitFor(async () => {
      expect((await service.send('GET', `/v1/jobs/${refit}`)).body).toMatchObject({ state: 'completed' })
    }, RECOVERY)
    expect(service.process.exitCode).toBeNull()
    console.log(`a full disk: ${again.length} writes refused and taken later, ${taken.length} acknowledged, none lost`)
  })

  /** Each acknowledged write, and no part of any other. */
  async function expectTaken(): Promise<void> {
    const [boats, weighings, haulOuts] = await Promise.all(
      ['boats', 'weighings', 'haul-outs'].map((rows) => allPages(service, `/v1/${rows}`)),
    )
    const ids = new Set([...boats!, ...weighings!, ...haulOuts!].map((row) => (row as { id: string }).id))
    expect(taken.filter(({ id }) => !ids.has(id))).toEqual([])
    const count = (end: string) => taken.filter(({ write }) => write.path.endsWith(end)).length
    const lifts = count('/haul-outs')
    expect(boats).toHaveLength(count('/boats') + WRITERS.length - 2)
    expect(haulOuts).toHaveLength(lifts + 1)
    expect(weighings).toHaveLength(count('/weighings') + lifts * ANODES.length)
  }
})
