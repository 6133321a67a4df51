import { linkSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { makeSecret } from './secrets.js'

const OWNER_ONLY = 0o600

/** The secret that signs sessions, made once and kept in the data folder: sessions outlive a restart. */
export function keptSessionSecret(dataDir: string): string {
  mkdirSync(dataDir, { recursive: true })
  const file = join(dataDir, 'session-secret')
  const draft = `${file}.${process.pid}`
  writeFileSync(draft, makeSecret(), { mode: OWNER_ONLY })
  try {
    // Fails when the secret is there, and never shows half of one: of two starts at once, both go on with the first one's.
    linkSync(draft, file)
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error
  } finally {
    rmSync(draft, { force: true })
  }
  return readFileSync(file, 'utf8').trim()
}
