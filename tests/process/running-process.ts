import { type ChildProcess, spawn } from 'node:child_process'
import { join } from 'node:path'
import { inject } from 'vitest'
import { PROJECT_ROOT } from '../../src/project-root.js'

const START_LIMIT_MS = 120_000

/** The key that `startProcess` makes the administrator's, unless told otherwise. */
export const KEY = 'a-key-of-the-tests-alone'

/** The service as people start it: a process of its own. */
export interface RunningProcess {
  readonly process: ChildProcess
  readonly address: string
  /** All that it has printed so far. */
  output(): string
  /** Sends a signal and gives the exit code; null when it was killed. */
  stop(signal: NodeJS.Signals): Promise<number | null>
  /** A request as the administrator. */
  send(method: string, path: string, body?: unknown, headers?: Record<string, string>): Promise<ProcessAnswer>
}

export interface ProcessAnswer {
  readonly status: number
  readonly headers: Headers
  // biome-ignore lint/suspicious/noExplicitAny: a test looks into answers of every shape, and says what it expects there
  readonly body: any
}

/**
 * Starts the compiled service on a free port and waits until it answers.
 * @throws Error with what it printed, when it ends or does not answer in time
 */
export async function startProcess(environment: Record<string, string>): Promise<RunningProcess> {
  const child = spawn(process.execPath, [join(inject('compiledService'), 'src', 'main.js')], {
    cwd: PROJECT_ROOT,
    env: { PATH: process.env.PATH, PORT: '0', LOG_LEVEL: 'warn', ...environment },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let said = ''
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk: Buffer) => (said += chunk.toString()))
  const ended = new Promise<number | null>((resolve) => child.once('close', resolve))
  const address = await addressOf(child, () => said)
  return {
    process: child,
    address,
    output: () => said,
    stop: (signal) => {
      child.kill(signal)
      return ended
    },
    send: (method, path, body, headers = {}) => send(`${address}${path}`, { method, headers, body }),
  }
}

/** The line that it prints once it listens. */
async function addressOf(child: ChildProcess, said: () => string): Promise<string> {
  const deadline = Date.now() + START_LIMIT_MS
  for (;;) {
    const address = said().match(/Anode Ledger is at (\S+)/)?.[1]
    if (address) return address
    if (child.exitCode !== null || child.signalCode !== null) throw new Error(`the service ended: ${said()}`)
    if (Date.now() > deadline) {
      child.kill('SIGKILL')
      throw new Error(`the service did not start in ${START_LIMIT_MS} ms: ${said()}`)
    }
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
}

interface Sent {
  readonly method: string
  readonly headers: Record<string, string>
  readonly body: unknown
}

async function send(url: string, { method, headers, body }: Sent): Promise<ProcessAnswer> {
  const isForm = body instanceof FormData
  const answer = await fetch(url, {
    method,
    headers: {
      authorization: `Bearer ${KEY}`,
      ...(body !== undefined && !isForm && { 'content-type': 'application/json' }),
      ...headers,
    },
    ...(body !== undefined && { body: isForm ? body : JSON.stringify(body) }),
  })
  const text = await answer.text()
  return { status: answer.status, headers: answer.headers, body: text === '' ? null : JSON.parse(text) }
}
