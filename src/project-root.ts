import { existsSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

/** The folder that holds package.json: the same whether the code runs from `src/` or compiled from `dist/src/`. */
export const PROJECT_ROOT = findProjectRoot(dirname(fileURLToPath(import.meta.url)))

/** The version of the service: its package says it. */
export function packageVersion(): string {
  const { version } = JSON.parse(readFileSync(join(PROJECT_ROOT, 'package.json'), 'utf8'))
  return String(version)
}

function findProjectRoot(folder: string): string {
  if (existsSync(join(folder, 'package.json'))) return folder
  const parent = dirname(folder)
  if (parent === folder) throw new Error('package.json was not found in any folder above the code')
  return findProjectRoot(parent)
}
