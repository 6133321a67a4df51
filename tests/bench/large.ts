import { parseArgs } from 'node:util'
import { ANODES_PER_BOAT, fillLargeDatabase } from './large-database.js'
import { printFigures } from './large-figures.js'

const USAGE = 'usage: npm run bench -- large --database postgres://… [--anodes 100000] [--boats 200] [--figures]'

/** `npm run bench -- large`: fills an empty database with so many anodes, in organisations of so many boats, then measures it; with --figures measures alone. */
export async function run(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: {
      database: { type: 'string' },
      anodes: { type: 'string', default: '100000' },
      boats: { type: 'string', default: '200' },
      figures: { type: 'boolean', default: false },
    },
  })
  const { database: databaseUrl, figures } = values
  const boatsEach = Number(values.boats)
  const organisations = Math.ceil(Number(values.anodes) / (boatsEach * ANODES_PER_BOAT))
  if (databaseUrl === undefined || !(organisations >= 1)) throw new Error(USAGE)
  if (!figures) {
    const began = performance.now()
    await fillLargeDatabase({ databaseUrl, organisations, boatsEach, print: console.log })
    console.log(`filled in ${((performance.now() - began) / 1000).toFixed(0)} s`)
  }
  await printFigures(databaseUrl)
}
