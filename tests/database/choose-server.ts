import { existsSync } from 'node:fs'
import { request } from 'node:http'
import { findServerBinaries, type RunningServer, startLocalServer } from './local-server.js'

const DOCKER_SOCKET = '/var/run/docker.sock'
const PING_LIMIT_MS = 400

/**
 * The PostgreSQL server for this run of the tests, in this order: `TEST_DATABASE_URL`, Docker through testcontainers, a
 * local PostgreSQL; nothing means the embedded database. `TEST_DATABASE=embedded` asks for the embedded one at once.
 *
 * @throws Error when there is none and REQUIRE_SERVER=1 wants one
 */
export async function chooseServer(): Promise<(RunningServer & { label: string }) | undefined> {
  if (process.env.TEST_DATABASE === 'embedded') return undefined
  const given = process.env.TEST_DATABASE_URL
  if (given) return { label: 'the server of TEST_DATABASE_URL', url: given, stop: async () => {} }
  if (await dockerAnswers()) return startContainer()
  const binaries = findServerBinaries()
  if (binaries) return { label: `a local PostgreSQL from ${binaries}`, ...(await startLocalServer(binaries)) }
  if (process.env.REQUIRE_SERVER === '1') {
    throw new Error(
      'REQUIRE_SERVER=1, and no PostgreSQL server: set TEST_DATABASE_URL, or install Docker or PostgreSQL',
    )
  }
  return undefined
}

async function startContainer(): Promise<RunningServer & { label: string }> {
  const { PostgreSqlContainer } = await import('@testcontainers/postgresql')
  const container = await new PostgreSqlContainer('postgres:15-alpine').start()
  return {
    label: 'PostgreSQL in a container',
    url: container.getConnectionUri(),
    stop: async () => {
      await container.stop()
    },
  }
}

/** The client alone proves nothing: the engine's socket must exist and answer. */
function dockerAnswers(): Promise<boolean> {
  if (!existsSync(DOCKER_SOCKET)) return Promise.resolve(false)
  return new Promise((resolve) => {
    const ping = request({ socketPath: DOCKER_SOCKET, path: '/_ping', timeout: PING_LIMIT_MS }, (answer) => {
      answer.resume()
      resolve(answer.statusCode === 200)
    })
    ping.once('timeout', () => ping.destroy())
    ping.once('error', () => resolve(false))
    ping.once('close', () => resolve(false))
    ping.end()
  })
}
