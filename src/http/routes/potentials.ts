import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { BoatParams } from '../../contract/boats.js'
import {
  NewPotential,
  PotentialChange,
  PotentialOfBoatQuery,
  PotentialPage,
  PotentialParams,
  PotentialQuery,
  PotentialView,
} from '../../contract/potentials.js'
import type { PotentialService } from '../../services/fleet/potentials.js'
import { requires } from '../auth/requires.js'
import { IfMatch, requireMatch, sendCreated, sendTagged } from '../etag.js'

const tags = ['Potentials']

export const potentialRoutes: FastifyPluginAsyncZod<{ potentials: PotentialService }> = async (app, { potentials }) => {
  app.get(
    '/v1/potentials',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'List potentials', querystring: PotentialQuery, response: { 200: PotentialPage } },
    },
    (request) => potentials.page(request.actor, request.query),
  )

  app.get(
    '/v1/boats/:boat/potentials',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: "List a boat's potentials",
        params: BoatParams,
        querystring: PotentialOfBoatQuery,
        response: { 200: PotentialPage },
      },
    },
    (request) => potentials.pageOfBoat(request.actor, request.params.boat, request.query),
  )

  app.post(
    '/v1/boats/:boat/potentials',
    {
      preHandler: requires('lift:write'),
      schema: {
        tags,
        summary: 'Log a potential',
        params: BoatParams,
        body: NewPotential,
        response: { 201: PotentialView },
      },
    },
    async (request, reply) => {
      const potential = await potentials.create(request.actor, request.params.boat, request.body)
      return sendCreated(reply, `/v1/potentials/${potential.id}`, potential)
    },
  )

  app.get(
    '/v1/potentials/:potential',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'Read a potential', params: PotentialParams, response: { 200: PotentialView } },
    },
    async (request, reply) => sendTagged(reply, await potentials.read(request.actor, request.params.potential)),
  )

  app.patch(
    '/v1/potentials/:potential',
    {
      preHandler: requires('lift:write'),
      schema: {
        tags,
        summary: 'Change a potential',
        params: PotentialParams,
        headers: IfMatch,
        body: PotentialChange,
        response: { 200: PotentialView },
      },
    },
    async (request, reply) => {
      const version = requireMatch(request)
      return sendTagged(reply, await potentials.change(request.actor, request.params.potential, version, request.body))
    },
  )

  app.delete(
    '/v1/potentials/:potential',
    {
      preHandler: requires('lift:write'),
      schema: {
        tags,
        summary: 'Remove a potential',
        params: PotentialParams,
        headers: IfMatch,
        response: { 204: z.null().describe('Removed') },
      },
    },
    async (request, reply) => {
      await potentials.remove(request.actor, request.params.potential, requireMatch(request))
      return reply.code(204).send(null)
    },
  )
}
