import { openDatabase } from '../../../src/db/client.js'
import { migrateDatabase } from '../../../src/db/migrate.js'
import { type CompiledService, compileService } from '../../process/compile-service.js'
import { type CompiledProcess, startCompiled } from '../../process/compiled-process.js'
import { fillLargeDatabase } from '../large-database.js'
import { serviceEnvironment } from './bench-service.js'
import { ask, BenchDatabases } from './databases.js'
import type { Sizes } from './sizes.js'

interface StartedWith {
  readonly arguments: readonly string[]
  readonly environment: Readonly<Record<string, string>>
}

const NOTHING_MORE: StartedWith = { arguments: [], environment: {} }

/** What all parts of a run share: a filled fleet whose copies they work on, and the service as it is shipped. */
export class BenchFleet {
  readonly databases = new BenchDatabases()
  readonly #sizes: Sizes
  readonly #compiled: CompiledService
  /** Its organisation has a refit that waits and that no queue hands out: every write shares it, and none is run. */
  fleetUrl = ''

  constructor(sizes: Sizes) {
    this.#sizes = sizes
    this.#compiled = compileService()
  }

  async fill(): Promise<void> {
    const { boats, fleetUrl } = this.#sizes
    this.fleetUrl = await this.databases.make('fleet', fleetUrl)
    if (fleetUrl === undefined) {
      await fillLargeDatabase({ databaseUrl: this.fleetUrl, organisations: 1, boatsEach: boats, print: console.log })
    }
    await migrate(this.fleetUrl)
    await holdRefits(this.fleetUrl)
  }

  /** The service on a database, in a process of its own. @param more what it is started with beside the usual */
  startService(databaseUrl: string, name: string, more: StartedWith = NOTHING_MORE): Promise<CompiledProcess> {
    const { profiles } = this.#sizes
    const profile =
      profiles === undefined ? [] : ['--cpu-prof', `--cpu-prof-dir=${profiles}`, `--cpu-prof-name=${name}`]
    const environment = { ...serviceEnvironment(databaseUrl), ...more.environment }
    return startCompiled(this.#compiled.folder, environment, [...profile, ...more.arguments])
  }

  async close(): Promise<void> {
    await this.databases.dropAll()
    this.#compiled.remove()
  }
}

/** A fleet that was kept from an earlier day has the tables of that day. */
async function migrate(databaseUrl: string): Promise<void> {
  const database = await openDatabase({ databaseUrl, dataDir: '' })
  try {
    await migrateDatabase(database)
  } finally {
    await database.close()
  }
}

/** A fit takes a processor for its minutes; whoever wants it beside the load begins it. */
export async function holdRefits(databaseUrl: string): Promise<void> {
  await ask(databaseUrl, `insert into jobs (organisation_id, kind) select id, 'refit' from organisations`)
}
