import { setImmediate } from 'node:timers/promises'
import { CSV_FILE_NAMES, type CsvFileName } from '../../contract/csv/index.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import type { Scope } from '../../db/repositories/visibility.js'
import { boatsInOrder, ROWS_OF_FILES } from './rows-of-files.js'
import { csvLines, headerOf } from './write-csv.js'

/** A file of an export: the text of one of the CSV files. */
export interface ExportedFile {
  readonly name: CsvFileName
  readonly text: string
}

/** Boats whose rows are read and written at once; others get their turn in between. */
const BOATS_AT_ONCE = 20

/** Gives a fleet back as the files that an import takes. */
export class ExportService {
  readonly #db: Db

  constructor(db: Db) {
    this.#db = db
  }

  /** All files as of one moment, each after those it refers to. */
  all(scope: Scope): Promise<ExportedFile[]> {
    return this.#files(scope, CSV_FILE_NAMES)
  }

  async one(scope: Scope, name: CsvFileName): Promise<string> {
    const [file] = await this.#files(scope, [name])
    return file?.text ?? ''
  }

  /** One snapshot, so that no weighing refers to an anode that was fitted between two queries. */
  #files(scope: Scope, names: readonly CsvFileName[]): Promise<ExportedFile[]> {
    const readOnly = { isolationLevel: 'repeatable read', accessMode: 'read only' } as const
    const read = async (tx: Db) => {
      const boatIds = await boatsInOrder(tx, scope)
      const files: ExportedFile[] = []
      for (const name of names) files.push({ name, text: await textOf(tx, scope, name, boatIds) })
      return files
    }
    return inOrganisation(this.#db, { ...scope, actor: 'export' }, read, readOnly)
  }
}

async function textOf(tx: Db, scope: Scope, name: CsvFileName, boatIds: readonly string[]): Promise<string> {
  if (name === 'berths.csv') return headerOf(name) + (await linesOf(tx, scope, name, []))
  const parts = [headerOf(name)]
  for (let start = 0; start < boatIds.length; start += BOATS_AT_ONCE) {
    parts.push(await linesOf(tx, scope, name, boatIds.slice(start, start + BOATS_AT_ONCE)))
    await setImmediate()
  }
  return parts.join('')
}

async function linesOf<N extends CsvFileName>(tx: Db, scope: Scope, name: N, boatIds: readonly string[]) {
  return csvLines(name, await ROWS_OF_FILES[name](tx, scope, boatIds))
}
