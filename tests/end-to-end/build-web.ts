import { join } from 'node:path'
import { build } from 'vite'
import { PROJECT_ROOT } from '../../src/project-root.js'
import { isBrowserWanted } from './browser.js'

/** Once for the whole run: the web app as it is shipped. Files that each built it would empty its folder under one another. */
export default async function buildWeb(): Promise<void> {
  if (!isBrowserWanted) return
  // The test runner's own mode would build the libraries of development, and no service worker.
  const before = process.env.NODE_ENV
  process.env.NODE_ENV = 'production'
  try {
    await build({ configFile: join(PROJECT_ROOT, 'src/web/vite.config.ts'), mode: 'production', logLevel: 'error' })
  } finally {
    process.env.NODE_ENV = before
  }
}
