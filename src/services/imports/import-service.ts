import { sql } from 'drizzle-orm'
import { CSV_FILE_NAMES, type CsvFileName, csvFileNamed } from '../../contract/csv/index.js'
import type { ImportAnswer, ImportCounts, ImportError } from '../../contract/imports.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { organisations } from '../../db/schema/index.js'
import type { Actor } from '../actor.js'
import type { RefitRequests } from '../jobs/refit-requests.js'
import { CellErrors } from './cell-errors.js'
import type { ParsedFiles } from './parsed-files.js'
import { PlanContext } from './planning/context.js'
import { loadFleet } from './planning/load-fleet.js'
import { planImport } from './planning/plan.js'
import { readCsv } from './reading/read-csv.js'
import { linkWeighings } from './writing/link-weighings.js'
import { type WrittenByFile, writeBatches } from './writing/write-batches.js'

/** A file as it comes in: its name decides what it is. */
export interface ImportSource {
  readonly name: string
  readonly content: AsyncIterable<Uint8Array>
}

export interface ImportOptions {
  /** Check everything and write nothing. */
  readonly dryRun?: boolean
  /** Doubts about weighings that somebody has looked into. */
  readonly confirm?: readonly string[] | undefined
  readonly onProgress?: ((progress: ImportProgress) => void) | undefined
}

export interface ImportProgress {
  readonly step: 'reading' | 'checking' | 'writing'
  /** The file being read. */
  readonly file?: string
  /** Rows so far; of `rows`, once all are read. */
  readonly done: number
  readonly rows?: number
}

/** Why the audit trail shows a change that came with a file: corrected weighings among them. */
const REASON = 'import'

interface Outcome {
  readonly written: WrittenByFile
  readonly questions: ImportError[]
}

/** Thrown to take back what a dry run wrote. */
class DryRunDone extends Error {
  readonly outcome: Outcome

  constructor(outcome: Outcome) {
    super('dry run')
    this.outcome = outcome
  }
}

/** Takes in a fleet from CSV files: all of them, or nothing. */
export class ImportService {
  readonly #db: Db
  readonly #refits: RefitRequests
  readonly #today: () => string

  constructor(db: Db, refits: RefitRequests, today: () => string) {
    this.#db = db
    this.#refits = refits
    this.#today = today
  }

  /**
   * Reads the files as they arrive, checks every cell, then writes them in one transaction. The same rows again change
   * nothing.
   *
   * @throws ImportRejected with file, line, column and reason of what cannot be accepted
   */
  async run(actor: Actor, sources: AsyncIterable<ImportSource>, options: ImportOptions = {}): Promise<ImportAnswer> {
    const errors = new CellErrors()
    const files = await this.#read(sources, errors, options)
    const dryRun = options.dryRun ?? false
    try {
      return await inOrganisation(this.#db, { ...actor, reason: REASON }, async (tx) => {
        const outcome = await this.#write(tx, actor, { files, errors, options })
        if (dryRun) throw new DryRunDone(outcome)
        const refit = await this.#refits.request(tx, actor)
        return { dryRun, files: countsOf(files, outcome.written), questions: outcome.questions, refit }
      })
    } catch (error) {
      if (!(error instanceof DryRunDone)) throw error
      const { written, questions } = error.outcome
      return { dryRun, files: countsOf(files, written), questions, refit: null }
    }
  }

  async #read(
    sources: AsyncIterable<ImportSource>,
    errors: CellErrors,
    { onProgress }: ImportOptions,
  ): Promise<ParsedFiles> {
    const files: ParsedFiles = {}
    let done = 0
    for await (const { name, content } of sources) {
      const known = csvFileNamed(name)
      if (!known || files[known]) {
        const detail = known ? 'this file is there twice' : `no such file: expected ${CSV_FILE_NAMES.join(', ')}`
        errors.add(name, null, null, detail)
        await discard(content)
        continue
      }
      onProgress?.({ step: 'reading', file: known, done })
      const parsed = await readCsv(known, content, errors)
      Object.assign(files, { [known]: parsed })
      done += parsed.rowCount
    }
    if (Object.keys(files).length === 0 && errors.count === 0) {
      errors.add('', null, null, `no file came with the request: expected any of ${CSV_FILE_NAMES.join(', ')}`)
      errors.throwIfAny()
    }
    return files
  }

  async #write(
    tx: Db,
    { organisationId }: Actor,
    { files, errors, options }: { files: ParsedFiles; errors: CellErrors; options: ImportOptions },
  ): Promise<Outcome> {
    // Two imports at once would each make the boat that both name; readings may go on being logged meanwhile.
    await tx.execute(sql`select 1 from ${organisations} where id = ${organisationId} for no key update`)
    const rows = Object.values(files).reduce((sum, file) => sum + file.rowCount, 0)
    options.onProgress?.({ step: 'checking', done: 0, rows })
    const fleet = await loadFleet(tx, organisationId, files)
    const circumstances = { today: this.#today(), confirmed: new Set(options.confirm) }
    const context = new PlanContext(fleet, files, errors, circumstances)
    const batches = await planImport(tx, organisationId, context)
    const questions = context.questions.settle(files['weighings.csv']?.rowCount ?? 0, errors)
    errors.throwIfAny()
    let done = 0
    const written = await writeBatches(tx, organisationId, batches, (more) => {
      done += more
      options.onProgress?.({ step: 'writing', done: Math.min(done, rows), rows })
    })
    await linkWeighings(tx, organisationId, idsOfHaulOuts(context))
    return { written, questions: [...questions] }
  }
}

function idsOfHaulOuts({ files, fleet }: PlanContext): string[] {
  const rows = files['haul-outs.csv']?.rows ?? []
  return rows.flatMap(({ values }) => fleet.haulOuts.get(fleet.boats.get(values.boat) ?? '', values.on) ?? [])
}

/** Whoever sends a file waits until it is taken; one that is of no use is taken and forgotten. */
async function discard(content: AsyncIterable<Uint8Array>): Promise<void> {
  for await (const _ of content);
}

function countsOf(files: ParsedFiles, written: WrittenByFile): ImportAnswer['files'] {
  const counts: Partial<Record<CsvFileName, ImportCounts>> = {}
  for (const name of CSV_FILE_NAMES) {
    const file = files[name]
    if (!file) continue
    const { created, updated } = written.get(name) ?? { created: 0, updated: 0 }
    counts[name] = { rows: file.rowCount, created, updated, unchanged: file.rowCount - created - updated }
  }
  return counts
}
