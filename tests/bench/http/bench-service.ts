import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { keyOfLarge } from '../large-database.js'

export const KEY = keyOfLarge(1)
export const HEADERS = { authorization: `Bearer ${KEY}` }
export const JSON_BODY = { 'content-type': 'application/json' }

/** Data of the service's processes, files on their way; gone with this process. */
export const FOLDER = mkdtempSync(join(tmpdir(), 'anode-ledger-bench-'))
process.once('exit', () => rmSync(FOLDER, { recursive: true, force: true }))

export function serviceEnvironment(databaseUrl: string): Record<string, string> {
  return {
    DATABASE_URL: databaseUrl,
    DATA_DIR: FOLDER,
    PORT: '0',
    LOG_LEVEL: 'warn',
    RATE_LIMIT: '0',
    ADMIN_API_KEY: KEY,
  }
}
