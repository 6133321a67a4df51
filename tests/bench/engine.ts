import { fork } from 'node:child_process'
import { loadavg } from 'node:os'
import { fileURLToPath } from 'node:url'
import { drawRows, type FleetSize } from './interval-rows.js'
import { fitByLme4, hasLme4 } from './lme4.js'
import { BENCH_MODELS, type BenchModel, type Measured, type Seconds } from './measured.js'

/** lme4 1.1-31 in R 4.2.2 on two cores of the kind that the project is built on, where it cannot be run along. */
interface Anchor {
  readonly fitS: number
  readonly withDeviationsS?: number
  readonly peakMiB: number
}

const SIZES: readonly (FleetSize & { readonly anchor: Anchor })[] = [
  { boats: 2_000, berths: 200, intervals: 20_000, anchor: { fitS: 0.2, peakMiB: 280 } },
  { boats: 20_000, berths: 1_000, intervals: 200_000, anchor: { fitS: 4.1, withDeviationsS: 4.1 + 37, peakMiB: 707 } },
]

const EXPLANATION = `Mixed model of log depletion rates, one thread. Fit: variances by REML, effects and their errors.
  anchor   log rate ~ alloy (3) + boat + berth; beside it lme4, y ~ alloy + (1 | boat) + (1 | berth)
  weighed  the same + anode (3 a boat), weighing errors that successive intervals share, a residual scale by row,
           weak priors on the standard deviations: the path of the rate model
"with errors" adds the standard deviations of every level of every term. Seconds of wall clock (of processor).
`

/** `npm run bench -- engine`: times the mixed model beside lme4 on the same rows, or beside figures measured elsewhere. */
export async function run(): Promise<void> {
  console.log(EXPLANATION)
  const along = await hasLme4()
  for (const size of SIZES) {
    console.log(`${size.boats} boats × ${size.berths} berths × ${size.intervals} intervals`)
    const own = await measure(size, 'anchor')
    report('anchor', own)
    if (along) compare(own, await fitByLme4(drawRows(size)))
    else reportAnchor(own, size.anchor)
    for (const model of BENCH_MODELS.slice(1)) report(model, await measure(size, model))
    console.log(`  load of the machine meanwhile: ${loadavg()[0]!.toFixed(1)}\n`)
  }
}

function measure({ boats, berths, intervals }: FleetSize, model: BenchModel): Promise<Measured> {
  const child = fork(fileURLToPath(new URL('./engine-child.ts', import.meta.url)), [
    ...[boats, berths, intervals].map(String),
    model,
  ])
  return new Promise((resolve, reject) => {
    child.once('message', (measured) => resolve(measured as Measured))
    child.once('exit', (code) => reject(new Error(`the fit ended with code ${code} before it had figures`)))
  })
}

function report(name: string, { fit, withDeviations, peakMiB, variances }: Measured): void {
  const sds = Object.entries(variances).map(([term, variance]) => `${term} ${Math.sqrt(variance).toFixed(4)}`)
  const times = `fit ${seconds(fit)}   with errors ${seconds(withDeviations)}   peak ${peakMiB.toFixed(0)} MiB`
  console.log(`  ${name.padEnd(8)} ${times}   sd: ${sds.join(', ')}`)
}

function seconds({ wall, cpu }: Seconds): string {
  return `${wall.toFixed(2)} s (${cpu.toFixed(2)})`
}

function compare(own: Measured, lme4: Measured): void {
  report('lme4', lme4)
  const ratio = (part: (each: Measured) => Seconds) =>
    `${(part(lme4).wall / part(own).wall).toFixed(1)} (${(part(lme4).cpu / part(own).cpu).toFixed(1)})`
  const differences = [
    ...own.fixed.map((value, j) => relative(value, lme4.fixed[j]!)),
    ...Object.keys(lme4.variances).map((term) => relative(own.variances[term]!, lme4.variances[term]!)),
    ...Object.keys(lme4.meanDeviation).map((term) => relative(own.meanDeviation[term]!, lme4.meanDeviation[term]!)),
  ]
  console.log(
    `  lme4 takes times as long: fit ${ratio(({ fit }) => fit)}, with errors ${ratio(({ withDeviations }) => withDeviations)};` +
      ` largest relative difference of an estimate ${Math.max(...differences).toExponential(1)}`,
  )
}

function reportAnchor(own: Measured, { fitS, withDeviationsS, peakMiB }: Anchor): void {
  const deviations = withDeviationsS === undefined ? '' : `, with errors ${withDeviationsS} s`
  console.log(`  lme4, not run here; elsewhere on such rows: fit ${fitS} s${deviations}, peak ${peakMiB} MiB`)
  const errors = withDeviationsS && `, with errors ${(withDeviationsS / own.withDeviations.wall).toFixed(1)}`
  console.log(`  lme4 takes times as long: fit ${(fitS / own.fit.wall).toFixed(1)}${errors ?? ''}`)
}

function relative(value: number, truth: number): number {
  return Math.abs(value / truth - 1)
}
