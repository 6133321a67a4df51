import { fileURLToPath } from 'node:url'
import { start, stopOnSignals } from '../../src/main.js'

/** The whole service with the demo's doors, in a process of its own: what the browser tests talk to. */
if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const service = await start({ demo: true })
  stopOnSignals(service)
  console.log(`listening at ${service.address}`)
}
