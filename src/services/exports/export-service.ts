import { CSV_FILE_NAMES, type CsvFileName } from '../../contract/csv/index.js'
import type { Db } from '../../db/client.js'
import type { Scope } from '../../db/repositories/visibility.js'
import { ROWS_OF_FILES } from './rows-of-files.js'
import { writeCsv } from './write-csv.js'

/** A file of an export: the text of one of the CSV files. */
export interface ExportedFile {
  readonly name: CsvFileName
  readonly text: string
}

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
    return this.#db.transaction(async (tx) => {
      const files: ExportedFile[] = []
      for (const name of names) files.push({ name, text: await textOf(tx as unknown as Db, scope, name) })
      return files
    }, readOnly)
  }
}

async function textOf<N extends CsvFileName>(tx: Db, scope: Scope, name: N): Promise<string> {
  return writeCsv(name, await ROWS_OF_FILES[name](tx, scope))
}
