import type { FastifyInstance } from 'fastify'
import type { AppOptions } from '../app.js'
import { healthRoutes } from './health.js'
import { openApiRoutes } from './openapi.js'

/** Every route file with just the services it uses. */
export async function registerRoutes(app: FastifyInstance, options: AppOptions): Promise<void> {
  const { services } = options
  await app.register(healthRoutes, { readiness: services.readiness })
  await app.register(openApiRoutes)
}
