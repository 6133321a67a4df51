import { type BareRoute, startBareRoute } from './bare-route.js'
import type { BenchFleet } from './bench-fleet.js'
import { HEADERS } from './bench-service.js'
import { closedLoop } from './closed-loop.js'
import { type Goal, printFigures, type Round } from './figures.js'
import { readLoad } from './read-load.js'
import { recordAll } from './record-requests.js'
import { playable, SqlPlayer } from './replayed-sql.js'
import type { Sizes } from './sizes.js'

interface MeasuredPage {
  readonly name: string
  readonly url: string
  readonly goal?: Goal
}

const PAGES: readonly MeasuredPage[] = [
  { name: 'fleet page, 50 boats', url: '/v1/boats?sort=name', goal: { of: 'p99', ratio: 3 } },
  { name: 'fleet page, 200 boats', url: '/v1/boats?sort=name&limit=200', goal: { of: 'p99', ratio: 3 } },
  { name: 'desk, 50 boats', url: '/v1/desk/boats' },
  { name: 'forecasts page, 50 anodes', url: '/v1/forecasts' },
  { name: 'one boat', url: '/v1/boats/Boat%201' },
]

/** Pages read over HTTP, beside the same statements sent by the driver alone, and beside Fastify with the same JSON and nothing else. */
export async function measurePages(fleet: BenchFleet, sizes: Sizes): Promise<void> {
  const url = await fleet.databases.make('pages', fleet.fleetUrl)
  // Read twice: what is kept in memory between requests is asked for once.
  const requests = PAGES.flatMap((page) => [page, page]).map((page) => ({ method: 'GET' as const, url: page.url }))
  const recorded = (await recordAll(url, requests)).filter((_, index) => index % 2 === 1)
  const service = await fleet.startService(url, 'pages.cpuprofile')
  const player = new SqlPlayer(url)
  try {
    for (const [index, page] of PAGES.entries()) {
      const answer = await fetch(`${service.address}${page.url}`, { headers: HEADERS })
      if (!answer.ok) throw new Error(`${page.url}: ${answer.status} ${await answer.text()}`)
      const bare = await startBareRoute(await answer.text())
      const statements = playable(recorded[index]!)
      const sides = { page: `${service.address}${page.url}`, play: () => player.play(statements), bare }
      try {
        await measurePage(page, sides, sizes)
      } finally {
        await bare.stop()
      }
    }
  } finally {
    await player.close()
    await service.stop('SIGTERM')
  }
}

interface Sides {
  readonly page: string
  readonly play: () => Promise<void>
  readonly bare: BareRoute
}

async function measurePage({ name, goal }: MeasuredPage, { page, play, bare }: Sides, sizes: Sizes): Promise<void> {
  const { requests, rounds, atOnce } = sizes
  const overSql: Round[] = []
  const overBare: Round[] = []
  const tasks = Array.from({ length: requests }, (_, index) => index)
  for (let round = 0; round <= rounds; round++) {
    const floor = await closedLoop(tasks, atOnce, play)
    const service = await readLoad({ url: page, headers: HEADERS, requests, atOnce })
    const route = await readLoad({ url: bare.address, headers: {}, requests, atOnce })
    // The first round warms all three up.
    if (round === 0) continue
    overSql.push({ service, floor })
    overBare.push({ service, floor: route })
  }
  printFigures(`${name}: ${requests} a round, ${atOnce} at once`, 'the same statements by pg alone', overSql, goal)
  printFigures(`${name}, beside HTTP alone`, 'bare Fastify route, the same JSON', overBare)
}
