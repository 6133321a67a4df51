import { BenchFleet } from './http/bench-fleet.js'
import { measureHaulOuts } from './http/haul-outs-part.js'
import { measureImport } from './http/import-part.js'
import { measurePages } from './http/pages-part.js'
import { readSizes, type Sizes } from './http/sizes.js'

const PARTS: Readonly<Record<string, (fleet: BenchFleet, sizes: Sizes) => Promise<void>>> = {
  'haul-outs': measureHaulOuts,
  pages: measurePages,
  import: measureImport,
}
/** These need a fleet that is there before. */
const NEED_FLEET = ['haul-outs', 'pages']

/**
 * `npm run bench -- http [haul-outs] [pages] [import]`: the service under load on a PostgreSQL server, each figure beside a floor
 * that was measured in the same minutes on the same machine. Sizes come from the environment (`http/sizes.ts`).
 */
export async function run(args: readonly string[]): Promise<void> {
  const wanted = args.length > 0 ? args : Object.keys(PARTS)
  const unknown = wanted.find((name) => !(name in PARTS))
  if (unknown !== undefined) throw new Error(`no part ${unknown}: there are ${Object.keys(PARTS).join(', ')}`)
  const sizes = readSizes()
  const fleet = new BenchFleet(sizes)
  try {
    if (wanted.some((name) => NEED_FLEET.includes(name))) await fleet.fill()
    for (const name of wanted) await PARTS[name]?.(fleet, sizes)
  } finally {
    await fleet.close()
  }
}
