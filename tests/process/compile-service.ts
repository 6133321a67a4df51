import { spawnSync } from 'node:child_process'
import { randomUUID } from 'node:crypto'
import { mkdirSync, rmSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { PROJECT_ROOT } from '../../src/project-root.js'

export interface CompiledService {
  readonly folder: string
  remove(): void
}

/** The service as it is shipped. A loader that reads TypeScript takes twice as long at each start. */
export function compileService(): CompiledService {
  // Below the project's own folder, so that it finds its packages and its migrations.
  const folder = join(PROJECT_ROOT, 'node_modules', '.cache', `anode-ledger-${randomUUID().slice(0, 8)}`)
  mkdirSync(dirname(folder), { recursive: true })
  const compiler = join(dirname(createRequire(import.meta.url).resolve('typescript/package.json')), 'bin', 'tsc')
  // Whether the types fit is another command's question.
  const args = [compiler, '-p', 'src/tsconfig.build.json', '--noCheck', '--outDir', folder]
  const made = spawnSync(process.execPath, args, { cwd: PROJECT_ROOT, encoding: 'utf8' })
  if (made.status !== 0) throw new Error(`the service does not compile:\n${made.stdout}${made.stderr}`)
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) }
}
