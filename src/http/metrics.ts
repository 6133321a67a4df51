import { timingSafeEqual } from 'node:crypto'
import type { FastifyInstance, FastifyRequest } from 'fastify'
import { Gauge, Histogram, Registry } from 'prom-client'
import type { Figures } from '../services/watching/figures.js'
import { ANSWER_BUCKETS_S, processFigures } from '../telemetry/process-figures.js'
import { HttpProblem } from './problem.js'

const COUNT_LIMIT_MS = 2_000

/**
 * Measures every request, and what waits. A request counts under its route, never under its address: names of boats are not told, and there are
 * only so many routes.
 */
export function measure(app: FastifyInstance, figures: Figures, registry: Registry): void {
  const seconds = new Histogram({
    name: 'http_request_duration_seconds',
    help: 'Time from a request to its answer',
    labelNames: ['method', 'route', 'status'] as const,
    buckets: ANSWER_BUCKETS_S,
    registers: [registry],
  })
  new Gauge({
    name: 'anode_ledger_unfinished',
    help: 'Jobs, letters and webhook messages that are under way or were given up',
    labelNames: ['kind', 'state'] as const,
    registers: [registry],
    async collect() {
      this.reset()
      for (const { kind, state, count } of await orNone(figures.unfinished())) this.set({ kind, state }, count)
    },
  })
  new Gauge({
    name: 'anode_ledger_oldest_waiting_seconds',
    help: 'For how long the oldest that waits of a kind has been due; absent where nothing waits',
    labelNames: ['kind'] as const,
    registers: [registry],
    async collect() {
      this.reset()
      for (const { kind, seconds } of await orNone(figures.oldestWaiting())) this.set({ kind }, seconds)
    },
  })
  app.addHook('onResponse', async ({ method, routeOptions }, reply) => {
    const labels = { method, route: routeOptions.url ?? 'none', status: String(reply.statusCode) }
    seconds.observe(labels, reply.elapsedTime / 1000)
  })
}

/** Tells what was measured, and the process's own figures, as Prometheus reads it, to whoever shows the token. */
export function tellMetrics(app: FastifyInstance, measured: Registry, token: string): void {
  const registry = Registry.merge([measured, processFigures()])
  app.get('/metrics', { config: { rateLimit: false }, schema: { hide: true } }, async (request, reply) => {
    if (!holds(request, token)) throw new HttpProblem(401, 'send METRICS_TOKEN as a bearer token')
    return reply.type(registry.contentType).send(await registry.metrics())
  })
}

/**
 * What the database counts, and nothing where it is away or silent: just then the other figures are wanted, within the ten seconds that
 * Prometheus waits unless told otherwise (scrape_timeout).
 */
async function orNone<Count>(counts: Promise<Count[]>): Promise<Count[]> {
  let timer: NodeJS.Timeout | undefined
  const tooLate = new Promise<Count[]>((resolve) => {
    timer = setTimeout(resolve, COUNT_LIMIT_MS, [])
  })
  try {
    return await Promise.race([counts.catch(() => []), tooLate])
  } finally {
    clearTimeout(timer)
  }
}

function holds({ headers: { authorization = '' } }: FastifyRequest, token: string): boolean {
  const given = Buffer.from(authorization)
  const expected = Buffer.from(`Bearer ${token}`)
  return given.length === expected.length && timingSafeEqual(given, expected)
}
