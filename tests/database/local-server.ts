import { type ChildProcess, spawn, spawnSync } from 'node:child_process'
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

export interface RunningServer {
  readonly url: string
  stop(): Promise<void>
}

/** Where PostgreSQL's own programs are, or nothing: on the PATH, or in the folders Debian keeps by version. */
export function findServerBinaries(): string | undefined {
  const debian = '/usr/lib/postgresql'
  const versioned = existsSync(debian) ? readdirSync(debian).map((version) => join(debian, version, 'bin')) : []
  return [...(process.env.PATH ?? '').split(':'), ...versioned].find(
    (folder) => existsSync(join(folder, 'initdb')) && existsSync(join(folder, 'postgres')),
  )
}

/** Starts a throw-away PostgreSQL on a free port. PostgreSQL refuses root, so root lends it another user's identity. */
export async function startLocalServer(binaries: string): Promise<RunningServer> {
  const identity = process.getuid?.() === 0 ? (idsOf('postgres') ?? idsOf('nobody')) : undefined
  const folder = mkdtempSync(join(tmpdir(), 'anode-ledger-pg-'))
  if (identity) chownSync(folder, identity.uid, identity.gid)
  const data = join(folder, 'data')
  const options = { ...identity, cwd: folder }
  const made = spawnSync(
    join(binaries, 'initdb'),
    ['-D', data, '-U', 'postgres', '-A', 'trust', '--no-sync', '-E', 'UTF8', '--locale=C'],
    { ...options, encoding: 'utf8' },
  )
  if (made.status !== 0) throw new Error(`initdb failed: ${made.stderr}`)
  const port = await freePort()
  const server = spawn(
    join(binaries, 'postgres'),
    ['-D', data, '-p', String(port), '-k', folder, '-c', 'listen_addresses=127.0.0.1', '-c', 'fsync=off'],
    { ...options, stdio: ['ignore', 'ignore', 'pipe'] },
  )
  await untilReady(server)
  return {
    url: `postgres://postgres@127.0.0.1:${port}/postgres`,
    stop: async () => {
      const ended = new Promise((resolve) => server.once('exit', resolve))
      server.kill('SIGINT')
      await ended
      rmSync(folder, { recursive: true, force: true })
    },
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
