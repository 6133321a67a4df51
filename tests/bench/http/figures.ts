import { type Measured, median } from './closed-loop.js'

/** One round: the service, and beside it in the same minute the least that could be done. */
export interface Round {
  readonly service: Measured
  readonly floor: Measured
}

export interface Goal {
  readonly of: 'throughput' | 'p99'
  /** Of the floor: throughput at least, p99 less than. */
  readonly ratio: number
}

/** Prints what each side came to and their ratio, each the median of the rounds, and whether that is the goal. */
export function printFigures(what: string, floor: string, rounds: readonly Round[], goal?: Goal): void {
  const of = (side: keyof Round) => middle(rounds.map((round) => round[side]))
  console.log(`\n${what}, ${rounds.length} rounds`)
  console.log(line('service', of('service')))
  console.log(line(floor, of('floor')))
  const throughput = median(rounds.map(({ service, floor: least }) => service.perSecond / least.perSecond))
  const p99 = median(rounds.map(({ service, floor: least }) => service.p99Ms / least.p99Ms))
  console.log(`  throughput ${throughput.toFixed(2)} of the floor, p99 ${p99.toFixed(2)} times the floor`)
  if (goal === undefined) return
  const met = goal.of === 'throughput' ? throughput >= goal.ratio : p99 < goal.ratio
  const wanted = goal.of === 'throughput' ? `throughput >= ${goal.ratio}` : `p99 < ${goal.ratio} times the floor`
  console.log(`  goal: ${wanted}: ${met ? 'met' : 'NOT MET'}`)
}

function middle(sides: readonly Measured[]): Measured {
  return {
    perSecond: median(sides.map(({ perSecond }) => perSecond)),
    p50Ms: median(sides.map(({ p50Ms }) => p50Ms)),
    p99Ms: median(sides.map(({ p99Ms }) => p99Ms)),
  }
}

function line(side: string, { perSecond, p50Ms, p99Ms }: Measured): string {
  return `  ${side.padEnd(34)} p50 ${ms(p50Ms)}  p99 ${ms(p99Ms)}  ${perSecond.toFixed(1).padStart(8)} /s`
}

const ms = (value: number) => `${value.toFixed(1).padStart(8)} ms`
