import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, resolve } from 'node:path'

const held = new Set<string>()

/**
 * Takes a data folder for this process: the embedded database does not lock its files, and two writers would lose
 * rows without an error. The lock lies beside the folder and names the process; one left by a dead process is taken over.
 * It does not see a process in another container on the same volume.
 *
 * @returns gives the folder back
 * @throws Error when another live process, or this one, holds it
 */
export function claimFolder(folder: string): () => void {
  const lock = `${resolve(folder)}.lock`
  if (held.has(lock)) throw new Error(`the data folder ${folder} is already open in this process`)
  mkdirSync(dirname(lock), { recursive: true })
  takeLock(lock, folder)
  held.add(lock)
  const release = () => {
    held.delete(lock)
    rmSync(lock, { force: true })
  }
  process.once('exit', release)
  return () => {
    process.off('exit', release)
    release()
  }
}

function takeLock(lock: string, folder: string): void {
  for (let attempt = 0; attempt < 2; attempt++) {
    try {
      writeFileSync(lock, String(process.pid), { flag: 'wx' })
      return
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error
      const holder = Number(readFileSync(lock, 'utf8'))
      if (isAlive(holder)) throw new Error(`the data folder ${folder} is in use by process ${holder}`)
      rmSync(lock, { force: true })
    }
  }
  throw new Error(`the data folder ${folder} could not be claimed`)
}

function isAlive(pid: number): boolean {
  // Our own number was left by a container that ran before this one.
  if (!(pid > 0) || pid === process.pid) return false
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}
