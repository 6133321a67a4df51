import { type ChildProcess, spawn, spawnSync } from 'node:child_process'
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

const RESTART_LIMIT_MS = 30_000
const RESTART_PAUSE_MS = 200

export interface RunningServer {
  readonly url: string
  stop(): Promise<void>
}

/** One of our own, whose crash can be tried. */
export interface LocalServer extends RunningServer {
  /** Ends all of its processes at once, as a crash does. */
  kill(): Promise<void>
  /** Starts it again on the same files and the same port. */
  restart(): Promise<void>
}

/** Where PostgreSQL's own programs are, or nothing: on the PATH, or in the folders Debian keeps by version. */
export function findServerBinaries(): string | undefined {
  const debian = '/usr/lib/postgresql'
  const versioned = existsSync(debian) ? readdirSync(debian).map((version) => join(debian, version, 'bin')) : []
  return [...(process.env.PATH ?? '').split(':'), ...versioned].find(
    (folder) => existsSync(join(folder, 'initdb')) && existsSync(join(folder, 'postgres')),
  )
}

/**
 * Starts a throw-away PostgreSQL on a free port. PostgreSQL refuses root, so root lends it another user's identity.
 *
 * @param disk a folder for its tables alone; its log of writes stays elsewhere, as on a disk of its own
 */
export async function startLocalServer(binaries: string, disk?: string): Promise<LocalServer> {
  const identity = process.getuid?.() === 0 ? (idsOf('postgres') ?? idsOf('nobody')) : undefined
  const folder = mkdtempSync(join(tmpdir(), 'anode-ledger-pg-'))
  if (identity) chownSync(folder, identity.uid, identity.gid)
  if (identity && disk !== undefined) chownSync(disk, identity.uid, identity.gid)
  const data = join(disk ?? folder, 'data')
  const options = { ...identity, cwd: folder }
  const made = spawnSync(
    join(binaries, 'initdb'),
    ['-D', data, '-U', 'postgres', '-A', 'trust', '--no-sync', '-E', 'UTF8', '--locale=C', '-X', join(folder, 'wal')],
    { ...options, encoding: 'utf8' },
  )
  if (made.status !== 0) throw new Error(`initdb failed: ${made.stderr}`)
  const port = await freePort()
  const launch = async () => {
    const started = spawn(
      join(binaries, 'postgres'),
      ['-D', data, '-p', String(port), '-k', folder, '-c', 'listen_addresses=127.0.0.1', '-c', 'fsync=off'],
      { ...options, stdio: ['ignore', 'ignore', 'pipe'] },
    )
    await untilReady(started)
    return started
  }
  let server = await launch()
  const hasEnded = () => server.exitCode !== null || server.signalCode !== null
  const end = async (signal: () => void) => {
    if (hasEnded()) return
    const ended = new Promise((resolve) => server.once('exit', resolve))
    signal()
    await ended
  }
  return {
    url: `postgres://postgres@127.0.0.1:${port}/postgres`,
    stop: async () => {
      await end(() => server.kill('SIGINT'))
      rmSync(folder, { recursive: true, force: true })
    },
    kill: () => end(() => killAll(server)),
    restart: async () => {
      server = await again(launch)
    },
  }
}

/** For a while: what was killed holds its shared memory a moment longer, and another program's connection may go out from the port meanwhile. */
async function again<Started>(launch: () => Promise<Started>): Promise<Started> {
  const deadline = Date.now() + RESTART_LIMIT_MS
  for (;;) {
    try {
      return await launch()
    } catch (error) {
      if (Date.now() > deadline) throw error
      await new Promise((resolve) => setTimeout(resolve, RESTART_PAUSE_MS))
    }
  }
}

function killAll({ pid }: ChildProcess): void {
  // The parent first, so that it starts no others.
  if (pid === undefined) return
  const children = spawnSync('ps', ['-o', 'pid=', '--ppid', String(pid)], { encoding: 'utf8' })
  for (const each of [pid, ...children.stdout.trim().split(/\s+/).filter(Boolean).map(Number)]) {
    try {
      process.kill(each, 'SIGKILL')
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'ESRCH') throw error
    }
  }
}

function idsOf(user: string): { uid: number; gid: number } | undefined {
  const read = (flag: string) => spawnSync('id', [flag, user], { encoding: 'utf8' })
  const uid = read('-u')
  const gid = read('-g')
  return uid.status === 0 && gid.status === 0 ? { uid: Number(uid.stdout), gid: Number(gid.stdout) } : undefined
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer()
    probe.once('error', reject)
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address()
      probe.close(() => (typeof address === 'object' && address ? resolve(address.port) : reject(new Error('no port'))))
    })
  })
}

function untilReady(server: ChildProcess): Promise<void> {
  return new Promise((resolve, reject) => {
    let said = ''
    server.stderr?.on('data', (chunk: Buffer) => {
      said += chunk.toString()
      if (said.includes('ready to accept connections')) resolve()
    })
    server.once('exit', (code) => reject(new Error(`postgres ended with ${code}: ${said}`)))
  })
}
