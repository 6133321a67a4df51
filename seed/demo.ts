import { randomBytes } from 'node:crypto'
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { start, stopOnSignals } from '../src/main.js'
import { ServiceClient } from './loading/client.js'
import { loadFleet } from './loading/load-fleet.js'
import { loadPhotos } from './loading/load-photos.js'
import { generateFleet } from './scenario/fleet.js'

/** Apart from the folder of a real service, so that neither finds the other's data. */
const DEFAULT_FOLDER = './data/demo'
const HARBOUR = 'Merrowby Haven'

/**
 * Starts the service with the invented harbour in it. What a visitor changed is still there at the next start;
 * `npm run demo -- --fresh` begins again, with a history that ends today.
 */
async function startDemo(): Promise<void> {
  const folder = process.env.DATA_DIR || DEFAULT_FOLDER
  if (process.argv.includes('--fresh')) rmSync(folder, { recursive: true, force: true })
  const key = keptKey(folder)
  const service = await start({
    demo: true,
    environment: {
      LOG_LEVEL: 'warn',
      ...process.env,
      DATA_DIR: folder,
      ADMIN_API_KEY: key,
      ORGANISATION_NAME: HARBOUR,
    },
    print: () => {},
  })
  stopOnSignals(service)
  const client = new ServiceClient(service.address, key)
  if (await client.isEmpty()) {
    const fleet = generateFleet(new Date().toISOString().slice(0, 10))
    console.log('loading the demo fleet …')
    await loadFleet(client, fleet)
    announce(service.address)
    await loadPhotos(client, fleet)
    console.log('the photos are in')
  } else announce(service.address)
}

function announce(address: string): void {
  console.log(
    `\n  ${HARBOUR} is open: ${address}\n  Choose there to look as staff, owner or manager. Ctrl-C stops it.\n`,
  )
}

/** The key that fills the demo, kept beside its data for the next start. */
function keptKey(folder: string): string {
  const file = join(folder, 'demo-key')
  if (existsSync(file)) return readFileSync(file, 'utf8')
  const key = randomBytes(24).toString('base64url')
  mkdirSync(folder, { recursive: true })
  writeFileSync(file, key, { mode: 0o600 })
  return key
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await startDemo()
