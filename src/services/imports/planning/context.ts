import type { CsvFileName, CsvRowOf } from '../../../contract/csv/index.js'
import { inFutureDetail, isInFuture } from '../../dates/not-in-future.js'
import type { CellErrors } from '../cell-errors.js'
import { CellQuestions } from '../cell-questions.js'
import type { ParsedFiles, ParsedRow } from '../parsed-files.js'
import type { Fleet, FleetAnode } from './fleet.js'

type Cell<N extends CsvFileName> = keyof CsvRowOf<N> & string

/** What every file's plan needs: the fleet so far, the day, and somewhere to report bad cells. */
export class PlanContext {
  readonly fleet: Fleet
  readonly files: ParsedFiles
  readonly today: string
  /** Doubts about weighings that somebody has looked into. */
  readonly confirmed: ReadonlySet<string>
  /** Doubts that may be let in. */
  readonly questions = new CellQuestions()
  readonly #errors: CellErrors

  constructor(
    fleet: Fleet,
    files: ParsedFiles,
    errors: CellErrors,
    circumstances: { today: string; confirmed: ReadonlySet<string> },
  ) {
    this.fleet = fleet
    this.files = files
    this.#errors = errors
    this.today = circumstances.today
    this.confirmed = circumstances.confirmed
  }

  /** Reports a cell, unless it could not be read and was reported for that. */
  refuse<N extends CsvFileName>(file: N, row: ParsedRow<N>, column: Cell<N>, detail: string): void {
    if (!row.bad.has(column)) this.#errors.add(file, row.line, column, detail)
  }

  /** Asks about a cell that could be read. */
  ask<N extends CsvFileName>(file: N, row: ParsedRow<N>, column: Cell<N>, detail: string): void {
    if (!row.bad.has(column)) this.questions.ask(file, row.line, column, detail)
  }

  refuseFuture<N extends CsvFileName>(file: N, row: ParsedRow<N>, column: Cell<N>, day: string | null): void {
    if (day !== null && isInFuture(day, this.today)) this.refuse(file, row, column, inFutureDetail(day))
  }

  /** The boat a row belongs to; one that is nowhere to be found is reported. */
  boatOf<N extends Exclude<CsvFileName, 'berths.csv'>>(
    file: N,
    row: ParsedRow<N> & { readonly values: { readonly boat: string } },
  ): string | undefined {
    const { boat } = row.values
    const id = this.fleet.boats.get(boat)
    if (id === undefined) this.#refuseUnknown(file, row, 'boat' as Cell<N>, 'boats.csv', `no boat is called "${boat}"`)
    return id
  }

  berthOf(file: 'stays.csv', row: ParsedRow<'stays.csv'>): string | null {
    const { berth } = row.values
    if (berth === null) return null
    const id = this.fleet.berths.get(berth)
    if (id === undefined) this.#refuseUnknown(file, row, 'berth', 'berths.csv', `no berth is called "${berth}"`)
    return id ?? null
  }

  fittingOf(file: 'potentials.csv', row: ParsedRow<'potentials.csv'>, boatId: string): string | null {
    const { boat, fitting } = row.values
    if (fitting === null) return null
    const id = this.fleet.fittings.get(boatId, fitting)
    const detail = `"${boat}" has no fitting called "${fitting}"; leave it empty for the bonded hull`
    if (id === undefined) this.#refuseUnknown(file, row, 'fitting', 'fittings.csv', detail)
    return id ?? null
  }

  anodeOf(file: 'weighings.csv', row: ParsedRow<'weighings.csv'>, boatId: string): FleetAnode | undefined {
    const { boat, anode } = row.values
    const found = this.fleet.anodes.get(boatId, anode)
    const detail = `"${boat}" has no anode called "${anode}"`
    if (!found) this.#refuseUnknown(file, row, 'anode', 'anodes.csv', detail)
    return found
  }

  /** Silent where the row that would answer stood in the import and could not be read. */
  #refuseUnknown<N extends CsvFileName>(
    file: N,
    row: ParsedRow<N>,
    column: Cell<N>,
    lookedIn: CsvFileName,
    detail: string,
  ): void {
    if (!this.isIncomplete(lookedIn)) this.refuse(file, row, column, detail)
  }

  isIncomplete(file: CsvFileName): boolean {
    return this.files[file]?.incomplete ?? false
  }
}
