import { FAILURES_OF_DAYS, type StatusView } from '../../contract/status.js'
import type { Db, Handles } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  databaseFacts,
  type FitFacts,
  factsOfNewestFit,
  isOnlyOrganisation,
  jobQueues,
  letterQueue,
  secondsOfLastJob,
  webhookQueue,
} from '../../db/repositories/status.js'
import type { Readiness } from '../access/readiness.js'
import type { Actor } from '../actor.js'
import { REFIT } from '../jobs/job-service.js'

/** What only the start knows of the installation. */
export interface InstallationFacts {
  readonly version: string
  readonly startedAt: Date
  readonly database: {
    readonly kind: 'embedded' | 'server'
    readonly migrations: number
    readonly newestMigration: string
  }
  readonly photoStore: 'folder' | 'bucket'
  readonly mailServer: boolean
  /** Of which moment the newest backup is, as far as this installation knows. */
  lastBackupAt(): Promise<string | null>
}

const MS_PER_DAY = 24 * 3_600_000
/** The interval that forecasts report first. */
const COVERAGE_LEVEL = 0.8
const NO_REFIT = { kind: REFIT, waiting: 0, working: 0, failed: 0, oldestWaitingSince: null }

/**
 * How the service does, for an organisation's administrator. What is counted is the organisation's own, read as any of its rows are. Of the
 * installation it says what is nobody's: versions, what it is connected to, whether that answers, when the last backup was. The size of the
 * database is all organisations' together, and is left out as soon as there are two: one could read the other's doings from how it grows.
 * Whoever runs the installation has that, and what waits over all organisations, at /metrics.
 */
export class StatusService {
  readonly #db: Db
  readonly #across: Db
  readonly #readiness: Readiness
  readonly #installation: InstallationFacts
  readonly #now: () => Date

  constructor({ db, across }: Handles, readiness: Readiness, installation: InstallationFacts, now: () => Date) {
    this.#db = db
    this.#across = across
    this.#readiness = readiness
    this.#installation = installation
    this.#now = now
  }

  async read(actor: Actor): Promise<StatusView> {
    const { organisationId } = actor
    const since = new Date(this.#now().getTime() - FAILURES_OF_DAYS * MS_PER_DAY).toISOString()
    const isAlone = await isOnlyOrganisation(this.#across)
    const { facts, fit, seconds, ...queues } = await inOrganisation(this.#db, actor, async (tx) => {
      const jobs = await jobQueues(tx, organisationId, since)
      return {
        jobs: jobs.some(({ kind }) => kind === REFIT) ? jobs : [NO_REFIT, ...jobs],
        letters: await letterQueue(tx, organisationId, since),
        webhooks: await webhookQueue(tx, organisationId, since),
        fit: await factsOfNewestFit(tx, organisationId),
        seconds: await secondsOfLastJob(tx, organisationId, REFIT),
        facts: await databaseFacts(tx),
      }
    })
    return {
      ...queues,
      lastFit: fit === undefined ? null : { ...withoutCalibration(fit), seconds },
      coverage: coverageOf(fit),
      installation: await this.#installationWith({ version: facts.version, bytes: isAlone ? facts.bytes : null }),
    }
  }

  async #installationWith(facts: { version: string; bytes: number | null }): Promise<StatusView['installation']> {
    const { version, startedAt, database, photoStore, mailServer } = this.#installation
    return {
      version,
      node: process.versions.node,
      startedAt: startedAt.toISOString(),
      database: { ...database, ...facts },
      photoStore,
      mailServer,
      away: await this.#readiness.away(),
      lastBackupAt: await this.#installation.lastBackupAt(),
    }
  }
}

function withoutCalibration({ calibration: _, ...fit }: FitFacts): Omit<FitFacts, 'calibration'> {
  return fit
}

function coverageOf(fit: FitFacts | undefined): StatusView['coverage'] {
  const main = fit?.calibration?.coverage?.find(({ level }) => level === COVERAGE_LEVEL)
  if (main === undefined || main.share === null) return null
  const { scored, weighings } = fit!.calibration!
  return { ...main, scored, weighings: weighings ?? 0 }
}
