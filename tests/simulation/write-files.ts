import { mkdir, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { CSV_FILE_NAMES, type CsvFileName } from '../../src/contract/csv/index.js'
import { csvLines, headerOf } from '../../src/services/exports/write-csv.js'
import type { FleetRows } from './simulated-fleet.js'

/** One of a fleet's files as it would be sent; empty below its header where nothing is known. */
export function fileText<N extends CsvFileName>(rows: FleetRows, name: N): string {
  return headerOf(name) + csvLines(name, rows[name] ?? [])
}

/** Writes a fleet as the files that the import and the backtest read. */
export async function writeFleet(rows: FleetRows, folder: string): Promise<void> {
  await mkdir(folder, { recursive: true })
  await Promise.all(CSV_FILE_NAMES.map((name) => writeFile(join(folder, name), fileText(rows, name))))
}
