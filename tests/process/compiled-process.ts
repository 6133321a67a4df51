import { type ChildProcess, spawn } from 'node:child_process'
import { join } from 'node:path'
import { PROJECT_ROOT } from '../../src/project-root.js'

const START_LIMIT_MS = 120_000

/** The service as people start it: a process of its own. */
export interface CompiledProcess {
  readonly process: ChildProcess
  readonly address: string
  /** All that it has printed so far. */
  output(): string
  /** Sends a signal and gives the exit code; null when it was killed. */
  stop(signal: NodeJS.Signals): Promise<number | null>
}

/**
 * Starts the service that was compiled into a folder, on a free port unless told otherwise, and waits until it answers.
 * @throws Error with what it printed, when it ends or does not answer in time
 */
export async function startCompiled(
  folder: string,
  environment: Record<string, string>,
  nodeArguments: readonly string[] = [],
): Promise<CompiledProcess> {
  const child = spawn(process.execPath, [...nodeArguments, join(folder, 'src', 'main.js')], {
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
