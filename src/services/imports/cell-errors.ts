import { type ImportError, MOST_ERRORS_TOLD } from '../../contract/imports.js'
import { Invalid } from '../errors.js'

/** An import in which something cannot be accepted: nothing of it is written. */
export class ImportRejected extends Invalid {
  override readonly errors: readonly ImportError[]
  /** All of them, told or not. */
  readonly errorCount: number

  constructor(errors: readonly ImportError[], errorCount: number) {
    super(errors)
    this.name = 'ImportRejected'
    this.message = `${errorCount} ${errorCount === 1 ? 'thing' : 'things'} in these files cannot be accepted; nothing was imported`
    this.errors = errors
    this.errorCount = errorCount
  }
}

/** Collects what is wrong with the files of one import: the first so many one by one, the rest as a count. */
export class CellErrors {
  readonly #told: ImportError[] = []
  #count = 0

  get count(): number {
    return this.#count
  }

  /** @param line null when the whole file is meant; @param column null when the whole row is */
  add(file: string, line: number | null, column: string | null, detail: string): void {
    this.#count += 1
    if (this.#told.length === MOST_ERRORS_TOLD) return
    this.#told.push(cellError(file, line, column, detail))
  }

  /** @throws ImportRejected when anything was found */
  throwIfAny(): void {
    if (this.#count > 0) throw new ImportRejected(this.#told, this.#count)
  }
}

/** @param line null when the whole file is meant; @param column null when the whole row is */
export function cellError(file: string, line: number | null, column: string | null, detail: string): ImportError {
  const steps = [file, line, column].filter((step) => step !== null)
  const pointer = `#/${steps.map((step) => encodeURIComponent(String(step).replaceAll('~', '~0').replaceAll('/', '~1'))).join('/')}`
  return { file, line, column, detail, pointer }
}
