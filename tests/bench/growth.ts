import { growths, inWords, tooFast } from './growth/compare.js'
import { touchedIn } from './growth/touched.js'
import { BenchDatabases } from './http/databases.js'
import { readSizes } from './http/sizes.js'
import { fillLargeDatabase } from './large-database.js'

const TIMES = 10

/**
 * `npm run bench -- growth`: what each statement of the main routes touches, in an organisation by itself and in one of ten times the boats
 * among ten of its size: none may grow faster than its answer.
 */
export async function run(): Promise<void> {
  const { boats } = readSizes()
  const databases = new BenchDatabases()
  try {
    const small = await databases.make('small')
    const large = await databases.make('large')
    await fillLargeDatabase({ databaseUrl: small, organisations: 1, boatsEach: boats / TIMES, print: console.log })
    await fillLargeDatabase({ databaseUrl: large, organisations: TIMES, boatsEach: boats, print: console.log })
    const all = growths(await touchedIn(databases, small), await touchedIn(databases, large))
    for (const each of all.toSorted((a, b) => b.rows + b.buffers - a.rows - a.buffers).slice(0, 10)) {
      console.log(`rows × ${each.rows.toFixed(1)}, blocks × ${each.buffers.toFixed(1)}: ${inWords(each).slice(0, 400)}`)
    }
    const failing = tooFast(all)
    console.log(`${all.length} statements, ${failing.length} of them grow faster than their answer`)
    if (failing.length > 0) process.exitCode = 1
  } finally {
    await databases.dropAll()
  }
}
