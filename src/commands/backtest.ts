import { createReadStream } from 'node:fs'
import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { CSV_FILE_NAMES, csvFileNamed } from '../contract/csv/index.js'
import { backtestAt } from '../engine/backtest/backtest.js'
import { EVERY_DAYS, rollingOrigins } from '../engine/backtest/rolling-origins.js'
import { type BacktestReport, backtestReport } from '../engine/backtest/summary.js'
import type { FleetHistory } from '../engine/rates/fleet-history.js'
import { calendarDay } from '../services/dates/day-numbers.js'
import { readFleetFiles } from '../services/fleet-files/read-fleet-files.js'
import { recordedFleetOf } from '../services/fleet-files/recorded-fleet.js'
import { ImportRejected } from '../services/imports/cell-errors.js'
import { fleetHistoryOf } from '../services/model/fleet-history.js'
import { tableOf } from './backtest-table.js'

const USAGE = `npm run backtest -- FOLDER [--origins N] [--every DAYS] [--json]

Forecasts the fleet of a folder's CSV files (${CSV_FILE_NAMES.join(', ')})
on past days, each from what was known by then, and scores the forecasts against the weighings that followed.
  --origins N    the latest N days only (all of them)
  --every DAYS   days from one forecast to the next (${EVERY_DAYS})
  --json         the report as JSON`

/** Where the command writes. */
export interface Output {
  write(text: string): unknown
}

interface Wanted {
  readonly folder: string
  readonly origins: number | undefined
  readonly everyDays: number
  readonly asJson: boolean
}

/** What the command's arguments cannot mean, or a folder that cannot be tested. */
class Misused extends Error {}

/**
 * `npm run backtest -- FOLDER`: how the forecasts would have done, beside a straight line and the one-year rule. Needs no database
 * and changes nothing.
 *
 * @returns exit code: 0 when there was something to score, 1 otherwise
 */
export async function backtestFolder(args: readonly string[], out: Output, err: Output): Promise<number> {
  try {
    const wanted = readArguments(args)
    const history = await historyOf(wanted.folder)
    const report = backtest(history, wanted, err)
    out.write(wanted.asJson ? `${JSON.stringify(withDates(report))}\n` : tableOf(report))
    return 0
  } catch (error) {
    err.write(`${reasonOf(error)}\n`)
    return 1
  }
}

function readArguments(args: readonly string[]): Wanted {
  const { positionals, values } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      origins: { type: 'string' },
      every: { type: 'string', default: String(EVERY_DAYS) },
      json: { type: 'boolean', default: false },
    },
  })
  const [folder, ...more] = positionals
  if (folder === undefined || more.length > 0) throw new Misused(USAGE)
  const { origins, every, json } = values
  return {
    folder,
    origins: origins === undefined ? undefined : count('--origins', origins),
    everyDays: count('--every', every),
    asJson: json,
  }
}

function count(name: string, text: string): number {
  const value = Number(text)
  if (!Number.isSafeInteger(value) || value < 1) throw new Misused(`${name}: ${text} is not a whole number above 0`)
  return value
}

async function historyOf(folder: string): Promise<FleetHistory> {
  const names = (await readdir(folder)).filter((name) => csvFileNamed(name) !== undefined).sort()
  if (names.length === 0) throw new Misused(`${folder} holds none of ${CSV_FILE_NAMES.join(', ')}`)
  const files = names.map((name) => ({ name, content: createReadStream(join(folder, name)) }))
  return fleetHistoryOf(recordedFleetOf(await readFleetFiles(files)))
}

function backtest(history: FleetHistory, { origins: wantedOrigins, everyDays }: Wanted, err: Output): BacktestReport {
  const origins = rollingOrigins(history, {
    everyDays,
    ...(wantedOrigins === undefined ? {} : { count: wantedOrigins }),
  })
  if (origins.length === 0)
    throw new Misused(`too few weighings, or too close together, for a forecast ${everyDays} days before the last one`)
  const end = lastDay(history)
  return backtestReport(
    origins.map((origin, index) => {
      err.write(`${calendarDay(origin)}: forecast ${index + 1} of ${origins.length}\n`)
      return backtestAt(history, origin, end)
    }),
  )
}

/** The day after the last weighing: what happened later scores nothing. */
function lastDay(history: FleetHistory): number {
  let last = 0
  for (const { anodes } of history.boats)
    for (const { weighings } of anodes) for (const { on } of weighings) last = Math.max(last, on)
  return last + 1
}

function withDates(report: BacktestReport) {
  return { ...report, origins: report.origins.map(calendarDay) }
}

function reasonOf(error: unknown): string {
  if (!(error instanceof ImportRejected)) return error instanceof Error ? error.message : String(error)
  const cells = error.errors.map(
    ({ file, line, column, detail }) =>
      `${file}${line === null ? '' : `:${line}`}${column === null ? '' : ` ${column}`}: ${detail}`,
  )
  const untold = error.errorCount - error.errors.length
  return [...cells, ...(untold > 0 ? [`and ${untold} more`] : [])].join('\n')
}

// Run as a command, not when a test imports it.
if (process.argv[1] !== undefined && import.meta.filename === process.argv[1]) {
  process.exitCode = await backtestFolder(process.argv.slice(2), process.stdout, process.stderr)
}
