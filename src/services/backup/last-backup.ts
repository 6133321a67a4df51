import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'

/** Beside the data: the service and the command that makes backups share this folder. */
const NOTE = 'last-backup.json'

/** Notes of which moment the newest backup is. That a backup is there does not depend on it. */
export async function noteBackup(dataDir: string, takenAt: string): Promise<void> {
  await writeFile(join(dataDir, NOTE), `${JSON.stringify({ takenAt })}\n`).catch(() => {})
}

/** Of which moment the newest backup is; null where none was made here, or by a command that works with another folder. */
export async function lastBackupAt(dataDir: string): Promise<string | null> {
  try {
    const { takenAt } = JSON.parse(await readFile(join(dataDir, NOTE), 'utf8'))
    return typeof takenAt === 'string' ? new Date(takenAt).toISOString() : null
  } catch {
    return null
  }
}
