import type { ImportError } from '../../contract/imports.js'
import { type CellErrors, cellError } from './cell-errors.js'

/**
 * A history of this many weighings and more holds a few slips of the pen; up to this share of them are asked about and let in, since
 * they count for little in the fit. In fewer rows, or where there are more, somebody is to look first. Judgement.
 */
const LEAST_HISTORY = 100
const MOST_SLIPS_SHARE = 0.01

/** Doubts about weighings that may be right: an anode that seems to have gained mass. */
export class CellQuestions {
  readonly #asked: ImportError[] = []

  ask(file: string, line: number, column: string, detail: string): void {
    this.#asked.push(cellError(file, line, column, detail))
  }

  /**
   * What is asked in the answer; too many questions are errors.
   *
   * @param weighings rows in the file
   */
  settle(weighings: number, errors: CellErrors): readonly ImportError[] {
    if (weighings >= LEAST_HISTORY && this.#asked.length <= MOST_SLIPS_SHARE * weighings) return this.#asked
    for (const { file, line, column, detail } of this.#asked) errors.add(file, line, column, detail)
    return []
  }
}
