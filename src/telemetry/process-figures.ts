import { Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client'

/**
 * What this process measures of itself, named as Prometheus names things: base units, the unit last. Labels take few values: kinds, routes,
 * outcomes, never a name that somebody gave.
 */
const FIGURES = new Registry()
const registers = [FIGURES]
let isWatched = false

/** For whoever reads the figures; from the first time on memory, time on the processor, delay of the event loop and garbage collection too. */
export function processFigures(): Registry {
  if (!isWatched) collectDefaultMetrics({ register: FIGURES })
  isWatched = true
  return FIGURES
}

/** Bounds in seconds. Common practice: from a query of one row to what a person gives up on. */
export const ANSWER_BUCKETS_S = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10]
const STATEMENT_BUCKETS_S = [0.001, 0.0025, ...ANSWER_BUCKETS_S]
/** A fit of a few boats to one of the largest fleets. */
const JOB_BUCKETS_S = [0.5, 1, 2.5, 5, 10, 30, 60, 120, 300, 600]

export type Outcome = 'done' | 'failed'

const statementSeconds = new Histogram({
  name: 'anode_ledger_statement_duration_seconds',
  help: 'Time of a statement on the database',
  labelNames: ['operation', 'outcome'] as const,
  buckets: STATEMENT_BUCKETS_S,
  registers,
})
const slowStatements = new Counter({
  name: 'anode_ledger_slow_statements_total',
  help: 'Statements that took longer than SLOW_QUERY_MS; the log has their text',
  registers,
})
const jobSeconds = new Histogram({
  name: 'anode_ledger_job_duration_seconds',
  help: 'Time of a try at a job',
  labelNames: ['kind', 'outcome'] as const,
  buckets: JOB_BUCKETS_S,
  registers,
})
const jobSuccess = new Gauge({
  name: 'anode_ledger_job_last_success_timestamp_seconds',
  help: 'When this process last completed a job of the kind, as Unix time',
  labelNames: ['kind'] as const,
  registers,
})
const outgoingSeconds = new Histogram({
  name: 'anode_ledger_outgoing_duration_seconds',
  help: 'Time of a call to another system: mail server, photo store, an address that somebody named',
  labelNames: ['kind', 'outcome'] as const,
  buckets: ANSWER_BUCKETS_S,
  registers,
})

/** How many connections a pool has, as its driver counts them. */
export interface CountedPool {
  readonly totalCount: number
  readonly idleCount: number
  readonly waitingCount: number
  readonly options: { readonly max: number }
}

const pools = new Map<CountedPool, string>()
const overPools = (set: (pool: string, counted: CountedPool) => void) => {
  for (const [counted, name] of pools) set(name, counted)
}
new Gauge({
  name: 'anode_ledger_database_connections',
  help: 'Connections to the database server',
  labelNames: ['pool', 'state'] as const,
  registers,
  collect() {
    overPools((pool, { totalCount, idleCount }) => {
      this.set({ pool, state: 'idle' }, idleCount)
      this.set({ pool, state: 'used' }, totalCount - idleCount)
    })
  },
})
new Gauge({
  name: 'anode_ledger_database_connections_max',
  help: 'Connections that a pool may open',
  labelNames: ['pool'] as const,
  registers,
  collect() {
    overPools((pool, { options }) => this.set({ pool }, options.max))
  },
})
new Gauge({
  name: 'anode_ledger_database_waiting_requests',
  help: 'Who waits for a connection of a pool',
  labelNames: ['pool'] as const,
  registers,
  collect() {
    overPools((pool, { waitingCount }) => this.set({ pool }, waitingCount))
  },
})

/** Counts a pool from here on, under a name for its work. */
export function countPool(name: string, pool: CountedPool): void {
  pools.set(pool, name)
}

export function forgetPool(pool: CountedPool): void {
  pools.delete(pool)
}

export function noteStatement(operation: string, outcome: Outcome, seconds: number): void {
  statementSeconds.observe({ operation, outcome }, seconds)
}

export function noteSlowStatement(): void {
  slowStatements.inc()
}

export function noteJob(kind: string, outcome: Outcome, seconds: number): void {
  jobSeconds.observe({ kind, outcome }, seconds)
  if (outcome === 'done') jobSuccess.set({ kind }, Date.now() / 1000)
}

export function noteOutgoing(kind: string, outcome: Outcome, seconds: number): void {
  outgoingSeconds.observe({ kind, outcome }, seconds)
}
