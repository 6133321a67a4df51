import { fitMixedModel } from '../../src/engine/statistics/mixed-model/fit.js'
import type { FitOptions } from '../../src/engine/statistics/mixed-model/types.js'
import { anchorModel, drawRows, weighedModel } from './interval-rows.js'
import type { Measured, Seconds } from './measured.js'

/** One fit in a process of its own, so that its peak of memory is its own too: boats, berths, intervals, model. */
const [boats, berths, intervals] = process.argv.slice(2, 5).map(Number)
const model = process.argv[5]
const rows = drawRows({ boats: boats!, berths: berths!, intervals: intervals! })
const data = model === 'anchor' ? anchorModel(rows) : weighedModel(rows)
// Penalties like those of the rate model: weak, with their modes near 0.3.
const prior = { kind: 'gamma-sd', shape: 2, rate: 3 } as const
const options: FitOptions = {
  // A tenth of the fourth digit, the last that is compared.
  tolerance: 1e-5,
  ...(model === 'weighed' && { variancePriors: { boat: prior, berth: prior, anode: prior, residual: prior } }),
}

const begin = { wall: performance.now(), cpu: process.cpuUsage() }
const fit = fitMixedModel(data, options)
const fitted = since()
const { effects } = fit
const withDeviations = since()
const measured: Measured = {
  fit: fitted,
  withDeviations,
  peakMiB: process.resourceUsage().maxRSS / 1024,
  variances: fit.variances,
  fixed: fit.fixed.map(({ estimate }) => estimate),
  meanDeviation: Object.fromEntries(
    Object.entries(effects).map(([name, levels]) => [
      name,
      levels.reduce((sum, { conditionalSd }) => sum + conditionalSd, 0) / levels.length,
    ]),
  ),
}
process.send!(measured)

function since(): Seconds {
  const { user, system } = process.cpuUsage(begin.cpu)
  return { wall: (performance.now() - begin.wall) / 1e3, cpu: (user + system) / 1e6 }
}
