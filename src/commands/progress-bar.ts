import type { ImportProgress } from '../services/imports/import-service.js'

const WIDTH = 30
/** Redrawn no more often than an eye can follow. */
const REDRAW_MS = 100

/** Where a bar is drawn: a terminal. */
export interface Screen {
  readonly isTTY?: boolean | undefined
  write(text: string): unknown
}

/** A bar on one line that is drawn over again and again; nothing where there is no terminal. */
export class ProgressBar {
  readonly #screen: Screen
  #drawnAt = 0
  #isDrawn = false

  constructor(screen: Screen) {
    this.#screen = screen
  }

  show(progress: ImportProgress): void {
    if (!this.#screen.isTTY) return
    const isLast = progress.done === progress.rows
    if (!isLast && Date.now() - this.#drawnAt < REDRAW_MS) return
    this.#drawnAt = Date.now()
    this.#isDrawn = true
    this.#screen.write(`\r\u001b[K${barOf(progress)}`)
  }

  /** Leaves the line to what comes next. */
  clear(): void {
    if (this.#isDrawn) this.#screen.write('\r\u001b[K')
    this.#isDrawn = false
  }
}

/**
 * @example barOf({ step: 'writing', done: 500, rows: 1000 }) // writing [###############···············]  50 % 500/1000 rows
 */
export function barOf({ step, file, done, rows }: ImportProgress): string {
  if (rows === undefined) return `${step} ${file ?? ''} (${done} rows so far)`
  const share = rows === 0 ? 1 : done / rows
  const filled = Math.round(share * WIDTH)
  const percent = String(Math.floor(share * 100)).padStart(3)
  return `${step} [${'#'.repeat(filled)}${'\u00b7'.repeat(WIDTH - filled)}] ${percent} % ${done}/${rows} rows`
}
