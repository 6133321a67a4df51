import { execFile } from 'node:child_process'
import { join } from 'node:path'
import { promisify } from 'node:util'
import type { CompiledProcess } from '../../process/compiled-process.js'
import { type BenchFleet, holdRefits } from './bench-fleet.js'
import { FOLDER, HEADERS } from './bench-service.js'
import type { Measured } from './closed-loop.js'
import { ask } from './databases.js'
import { printFigures, type Round } from './figures.js'
import { importFiles } from './import-files.js'
import type { Sizes } from './sizes.js'

const GOAL = { of: 'throughput', ratio: 0.25 } as const
const run = promisify(execFile)

/**
 * Weighings imported over HTTP, beside COPY of the same rows: into the same table, which has its keys, its checks and its audit trail, and
 * into one that has nothing of these.
 */
export async function measureImport(fleet: BenchFleet, { weighings, rounds }: Sizes): Promise<void> {
  const files = importFiles(weighings, new Date().toISOString().slice(0, 10))
  const filled = await fleet.databases.make('import_filled')
  await withService(fleet, filled, 'import-fleet', async (service) => {
    await holdRefits(filled)
    await send(service, files.fleet)
  })
  const intoTable: Round[] = []
  const intoBare: Round[] = []
  for (let round = 0; round < rounds; round++) {
    const imported = await fleet.databases.make(`import_served_${round}`, filled)
    const copied = await fleet.databases.make(`import_copied_${round}`, filled)
    const service = await withService(fleet, imported, `import-${round}.cpuprofile`, (running) =>
      timed(weighings, () => send(running, files.weighings)),
    )
    const file = join(FOLDER, 'weighings.copy')
    await psql(imported, `\\copy weighings to '${file}'`)
    await ask(copied, 'create table bare_weighings as select * from weighings where false')
    const bare = await timed(weighings, () => psql(copied, `\\copy bare_weighings from '${file}'`))
    const table = await timed(weighings, () => psql(copied, `\\copy weighings from '${file}'`))
    intoTable.push({ service, floor: table })
    intoBare.push({ service, floor: bare })
    await refuseIfDifferent(copied, weighings)
    await fleet.databases.drop(imported)
    await fleet.databases.drop(copied)
  }
  printFigures(`import of ${weighings} weighings, rows a second`, 'COPY into the same table', intoTable, GOAL)
  printFigures(
    `import of ${weighings} weighings, beside a table without rules`,
    'COPY into a table without rules',
    intoBare,
  )
}

async function withService<T>(
  fleet: BenchFleet,
  databaseUrl: string,
  name: string,
  work: (service: CompiledProcess) => Promise<T>,
): Promise<T> {
  const service = await fleet.startService(databaseUrl, name)
  try {
    return await work(service)
  } finally {
    await service.stop('SIGTERM')
  }
}

/** @throws Error when it is refused */
async function send({ address }: CompiledProcess, files: Readonly<Record<string, string>>): Promise<void> {
  const form = new FormData()
  for (const [name, content] of Object.entries(files)) form.set(name, new Blob([content], { type: 'text/csv' }), name)
  const answer = await fetch(`${address}/v1/imports`, { method: 'POST', headers: HEADERS, body: form })
  if (!answer.ok) throw new Error(`the import: ${answer.status} ${await answer.text()}`)
  await answer.text()
}

async function timed(rows: number, work: () => Promise<unknown>): Promise<Measured> {
  const began = performance.now()
  await work()
  const tookMs = performance.now() - began
  return { perSecond: (rows * 1000) / tookMs, p50Ms: tookMs, p99Ms: tookMs }
}

async function psql(databaseUrl: string, command: string): Promise<void> {
  await run('psql', ['--no-psqlrc', '--quiet', '--set', 'ON_ERROR_STOP=1', '--command', command, databaseUrl])
}

/** COPY must have written the whole file. */
async function refuseIfDifferent(databaseUrl: string, weighings: number): Promise<void> {
  const [row] = await ask<{ stored: number }>(databaseUrl, 'select count(*)::int as stored from weighings')
  if (row?.stored !== weighings) throw new Error(`COPY wrote ${row?.stored} of ${weighings} weighings`)
}
