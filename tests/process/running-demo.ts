import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { PROJECT_ROOT } from '../../src/project-root.js'

const READY_LIMIT_MS = 240_000

export interface RunningDemo {
  readonly address: string
  stop(): Promise<void>
}

/** The demo as it was built, on data of its own; given back once its fleet and its photos are in. */
export async function startDemo(): Promise<RunningDemo> {
  const data = mkdtempSync(join(tmpdir(), 'anode-ledger-demo-'))
  const demo = spawn(process.execPath, ['dist/seed/demo.js'], {
    cwd: PROJECT_ROOT,
    env: { ...process.env, PORT: '0', DATA_DIR: join(data, 'demo'), DATABASE_URL: '' },
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  const hasEnded = once(demo, 'exit')
  const stop = async () => {
    demo.kill('SIGTERM')
    await hasEnded
    rmSync(data, { recursive: true, force: true })
  }
  const limit = setTimeout(() => demo.kill('SIGTERM'), READY_LIMIT_MS)
  try {
    return { address: await whenOpen(demo.stdout), stop }
  } catch (error) {
    await stop()
    throw error
  } finally {
    clearTimeout(limit)
  }
}

function whenOpen(output: NodeJS.ReadableStream): Promise<string> {
  return new Promise((resolve, reject) => {
    let printed = ''
    output.setEncoding('utf8')
    output.on('data', (text: string) => {
      printed += text
      const address = /is open: (\S+)/.exec(printed)?.[1]
      if (address !== undefined && printed.includes('the photos are in')) resolve(address)
    })
    output.on('end', () => reject(new Error(`the demo ended: ${printed}`)))
  })
}
