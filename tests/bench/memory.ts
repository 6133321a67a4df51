import { BenchFleet } from './http/bench-fleet.js'
import { ask } from './http/databases.js'
import { readSizes } from './http/sizes.js'
import { type Sample, slopeOf, within } from './memory/growth.js'
import { REPORTING, reportedHeaps, watchResident } from './memory/samples.js'
import { loadSteadily } from './memory/steady-load.js'

/** Of the time: what is loaded once, and a heap that has found its size, are no growth. */
const WARM_UP_SHARE = 1 / 4
/** Status: a choice. The last quarter of the time beside the second; the data themselves grow by some per cent. */
const FLAT = 1.1

/**
 * `npm run bench -- memory`: how much memory the service holds while haul-outs are logged, the fleet refitted and pages read, `MINUTES` long.
 * The process is seen from outside, the heaps of its two threads as each reports its own.
 */
export async function run(): Promise<void> {
  const sizes = readSizes()
  const fleet = new BenchFleet(sizes)
  try {
    await fleet.fill()
    const databaseUrl = await fleet.databases.make('memory', fleet.fleetUrl)
    // Here refits run as the haul-outs ask for them: their thread's memory is the process's.
    await ask(databaseUrl, `delete from jobs where state = 'queued'`)
    const service = await fleet.startService(databaseUrl, 'memory.cpuprofile', REPORTING)
    const resident = watchResident(service)
    try {
      const { haulOuts, reads } = await loadSteadily(service, { databaseUrl, ...sizes })
      console.log(`\nmemory: ${sizes.minutes} minutes, ${haulOuts} haul-outs logged, ${reads} pages read`)
    } finally {
      resident.stop()
      await service.stop('SIGTERM')
    }
    const refits = await ask<{ n: number }>(databaseUrl, `select count(*)::int n from jobs where state = 'completed'`)
    console.log(`  ${refits[0]?.n} refits completed`)
    printGrowth('resident', resident.samples)
    for (const [name, samples] of reportedHeaps()) printGrowth(name, samples)
    const ratio = lastBesideSecond(resident.samples)
    console.log(`  goal: resident in the last quarter < ${FLAT} × the second: ${ratio < FLAT ? 'met' : 'NOT MET'}`)
    if (!(ratio < FLAT)) process.exitCode = 1
  } finally {
    await fleet.close()
  }
}

function lastBesideSecond(samples: readonly Sample[]): number {
  return within(samples, 0.75, 1).mean / within(samples, 0.25, 0.5).mean
}

function printGrowth(name: string, samples: readonly Sample[]): void {
  const quarters = [0, 1, 2, 3].map((quarter) => within(samples, quarter / 4, (quarter + 1) / 4))
  const settled = samples.slice(Math.floor(WARM_UP_SHARE * samples.length))
  const { slope, error } = slopeOf(settled)
  const shown = quarters.map(({ mean, highest }) => `${mean.toFixed(0)} (${highest.toFixed(0)})`).join(', ')
  console.log(`  ${name}: mean (highest) of each quarter ${shown} MiB, ${samples.length} samples`)
  console.log(`    after the first: ${slope.toFixed(2)} ± ${error.toFixed(2)} MiB a minute (standard error)`)
  console.log(`    last quarter beside the second: ${lastBesideSecond(samples).toFixed(3)}`)
}
