import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { NewSavedView, SavedView, SavedViewChange, SavedViewParams, SavedViews } from '../../contract/desk-views.js'
import type { SavedViewService } from '../../services/desk/saved-views.js'
import { requires } from '../auth/requires.js'
import { IfMatch, requireMatch, sendCreated, sendTagged } from '../etag.js'

const tags = ['Fleet desk']
const preHandler = requires('desk:read')

/** Whoever asks sees their own views, and nobody else's. */
export const savedViewRoutes: FastifyPluginAsyncZod<{ savedViews: SavedViewService }> = async (app, { savedViews }) => {
  app.get(
    '/v1/desk/views',
    { preHandler, schema: { tags, summary: 'Your saved views', response: { 200: SavedViews } } },
    async (request) => ({ items: await savedViews.all(request.actor) }),
  )
  app.post(
    '/v1/desk/views',
    { preHandler, schema: { tags, summary: 'Save a view', body: NewSavedView, response: { 201: SavedView } } },
    async (request, reply) => {
      const view = await savedViews.create(request.actor, request.body)
      return sendCreated(reply, `/v1/desk/views/${view.id}`, view)
    },
  )
  app.patch(
    '/v1/desk/views/:view',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Rename a view, renew it, or have it open first',
        params: SavedViewParams,
        headers: IfMatch,
        body: SavedViewChange,
        response: { 200: SavedView },
      },
    },
    async (request, reply) => {
      const version = requireMatch(request)
      return sendTagged(reply, await savedViews.change(request.actor, request.params.view, version, request.body))
    },
  )
  app.delete(
    '/v1/desk/views/:view',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Delete a view',
        params: SavedViewParams,
        headers: IfMatch,
        response: { 204: z.null() },
      },
    },
    async (request, reply) => {
      await savedViews.delete(request.actor, request.params.view, requireMatch(request))
      return reply.code(204).send(null)
    },
  )
}
