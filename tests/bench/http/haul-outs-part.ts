import { Pool } from 'undici'
import type { CompiledProcess } from '../../process/compiled-process.js'
import type { BenchFleet } from './bench-fleet.js'
import { HEADERS, JSON_BODY } from './bench-service.js'
import { closedLoop, type Measured } from './closed-loop.js'
import { ask } from './databases.js'
import { printFigures, type Round } from './figures.js'
import { type HaulOutTask, haulOutTasks } from './haul-out-tasks.js'
import { recordAll } from './record-requests.js'
import { type Played, playable, SqlPlayer } from './replayed-sql.js'
import type { Sizes } from './sizes.js'

const CREATED = 201
const GOAL = { of: 'throughput', ratio: 0.6 } as const

/** Haul-outs logged over HTTP, each of a boat of its own, beside the same statements sent by the driver alone. */
export async function measureHaulOuts(fleet: BenchFleet, sizes: Sizes): Promise<void> {
  const { rounds, atOnce } = sizes
  const today = new Date().toISOString().slice(0, 10)
  const tasks = await haulOutTasks(fleet.fleetUrl, today, true)
  // The first ones warm both sides up and are not counted.
  const perRound = Math.min(sizes.requests, Math.floor(tasks.length / (rounds + 1)))
  const recordedOn = await fleet.databases.make('haul_outs_recorded', fleet.fleetUrl)
  const playedOn = await fleet.databases.make('haul_outs_played', fleet.fleetUrl)
  const servedOn = await fleet.databases.make('haul_outs_served', fleet.fleetUrl)
  const used = tasks.slice(0, perRound * (rounds + 1))
  const requests = used.map(({ path, body, key }) => ({ method: 'POST' as const, url: path, body, key }))
  const played = (await recordAll(recordedOn, requests)).map(playable)
  console.log(`\na haul-out (3 anodes weighed, one replaced) takes ${played.at(-1)?.length} statements`)
  const service = await fleet.startService(servedOn, 'haul-outs.cpuprofile')
  const player = new SqlPlayer(playedOn)
  const measured: Round[] = []
  try {
    for (let round = 0; round <= rounds; round++) {
      const from = round * perRound
      const floor = await closedLoop(played.slice(from, from + perRound), atOnce, (each: Played) => player.play(each))
      const served = await logAll(service, used.slice(from, from + perRound), atOnce)
      if (round > 0) measured.push({ service: served, floor })
    }
  } finally {
    await player.close()
    await service.stop('SIGTERM')
  }
  await refuseIfDifferent(playedOn, servedOn)
  const what = `haul-outs: ${perRound} a round, ${atOnce} at once`
  printFigures(what, 'the same statements by pg alone', measured, GOAL)
}

/** @throws Error when one is not taken */
export async function logAll(
  { address }: CompiledProcess,
  tasks: readonly HaulOutTask[],
  atOnce: number,
): Promise<Measured> {
  const pool = new Pool(address, { connections: atOnce })
  try {
    return await closedLoop(tasks, atOnce, async ({ path, body, key }) => {
      const headers = { ...HEADERS, ...JSON_BODY, 'idempotency-key': key }
      const answer = await pool.request({ method: 'POST', path, headers, body })
      const said = await answer.body.text()
      if (answer.statusCode !== CREATED) throw new Error(`${path}: ${answer.statusCode} ${said}`)
    })
  } finally {
    await pool.close()
  }
}

/** Both sides must have done the same work. */
async function refuseIfDifferent(playedOn: string, servedOn: string): Promise<void> {
  const counts = `select (select count(*) from haul_outs) as lifts, (select count(*) from weighings) as weighings,
    (select count(*) from anodes) as anodes, (select count(*) from audit_entries) as audited,
    (select count(*) from idempotency_keys where status is not null) as answered`
  const [[played], [served]] = await Promise.all([ask(playedOn, counts), ask(servedOn, counts)])
  const [one, other] = [JSON.stringify(played), JSON.stringify(served)]
  if (one !== other) throw new Error(`the two sides wrote different rows: ${one} and ${other}`)
}
