import { spawnSync } from 'node:child_process'
import { chmodSync, closeSync, mkdtempSync, openSync, rmSync, statfsSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

const MIB = 1024 * 1024
/** Room for an empty cluster of PostgreSQL (40 MB) or an embedded one, and a fleet. */
const SIZE_MIB = 192
/** A shared memory of a container is 64 MiB unless told otherwise: small enough to be filled in a moment. */
const MOST_SHARED_MIB = 1024
const SHARED_MEMORY = '/dev/shm'

/** A disk that can be filled, and freed again. */
export interface SmallDisk {
  readonly folder: string
  /** Takes all that is free, to the last block. */
  fill(): void
  free(): void
  remove(): void
}

/** A file system in memory, mounted by root; where that may not be, the container's own shared memory; undefined where that is large. */
export function makeSmallDisk(): SmallDisk | undefined {
  const mounted = mkdtempSync(join(tmpdir(), 'anode-ledger-disk-'))
  const mount = spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${SIZE_MIB}m,mode=755`, 'tmpfs', mounted])
  if (mount.status === 0) {
    const remove = () => {
      spawnSync('umount', ['-l', mounted])
      rmSync(mounted, { recursive: true, force: true })
    }
    return diskAt(mounted, remove)
  }
  rmSync(mounted, { recursive: true, force: true })
  if (!isSmall(SHARED_MEMORY)) return undefined
  const folder = mkdtempSync(join(SHARED_MEMORY, 'anode-ledger-disk-'))
  // For the user that PostgreSQL runs as.
  chmodSync(folder, 0o755)
  return diskAt(folder, () => rmSync(folder, { recursive: true, force: true }))
}

function isSmall(folder: string): boolean {
  try {
    const { blocks, bsize } = statfsSync(folder)
    return (blocks * bsize) / MIB <= MOST_SHARED_MIB
  } catch {
    return false
  }
}

function diskAt(folder: string, remove: () => void): SmallDisk {
  const ballast = join(folder, 'ballast')
  return {
    folder,
    fill: () => {
      const file = openSync(ballast, 'a')
      for (const size of [MIB, 4096, 1]) writeWhileThereIsRoom(file, Buffer.alloc(size))
      closeSync(file)
    },
    free: () => rmSync(ballast),
    remove,
  }
}

function writeWhileThereIsRoom(file: number, chunk: Buffer): void {
  try {
    for (;;) writeSync(file, chunk)
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOSPC') throw error
  }
}
