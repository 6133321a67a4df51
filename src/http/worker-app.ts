import fastify, { type FastifyInstance } from 'fastify'
import { serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod'
import { Registry } from 'prom-client'
import type { Services } from '../services/build-services.js'
import type { AppOptions } from './app.js'
import { handleErrors, refuseUnknownPaths } from './error-handler.js'
import { measure, tellMetrics } from './metrics.js'
import { healthRoutes } from './routes/health.js'

export interface WorkerAppOptions extends Pick<AppOptions, 'metricsToken' | 'registry' | 'logger'> {
  readonly services: Pick<Services, 'readiness' | 'figures'>
}

/** The doors of a process that does the work beside the requests: whether it lives and is ready, its figures, and nothing else. */
export async function buildWorkerApp(options: WorkerAppOptions): Promise<FastifyInstance> {
  const { services, metricsToken, registry = metricsToken === undefined ? undefined : new Registry() } = options
  const app = fastify({ logger: options.logger ?? false, forceCloseConnections: 'idle' })
  app.setValidatorCompiler(validatorCompiler)
  app.setSerializerCompiler(serializerCompiler)
  handleErrors(app)
  refuseUnknownPaths(app)
  if (registry !== undefined) measure(app, services.figures, registry)
  if (registry !== undefined && metricsToken !== undefined) tellMetrics(app, registry, metricsToken)
  await app.register(healthRoutes, { readiness: services.readiness })
  return app
}
