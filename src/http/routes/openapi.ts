import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'

export const openApiRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get('/v1/openapi.json', { schema: { hide: true } }, async () => app.swagger())
}
