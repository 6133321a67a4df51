import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { MemberChange, MemberPage, MemberQuery, MemberRequest, MemberView } from '../../contract/organisations.js'
import type { MemberService } from '../../services/organisations/member-service.js'
import { requires } from '../auth/requires.js'
import { etagOf, requireMatch } from '../etag.js'

const tags = ['Organisation']
const params = z.object({ id: z.uuid() })
const preHandler = requires('organisation:manage')

/** People of the organisation and their roles. */
export const memberRoutes: FastifyPluginAsyncZod<{ members: MemberService }> = async (app, { members }) => {
  app.get(
    '/v1/members',
    { preHandler, schema: { tags, summary: 'All members', querystring: MemberQuery, response: { 200: MemberPage } } },
    (request) => members.page(request.actor, request.query),
  )

  app.post(
    '/v1/members',
    {
      preHandler,
      schema: { tags, summary: 'Invite a person by e-mail', body: MemberRequest, response: { 201: MemberView } },
    },
    async (request, reply) => {
      const member = await members.invite(request.actor, request.body)
      return reply.code(201).header('etag', etagOf(member)).header('location', `/v1/members/${member.id}`).send(member)
    },
  )

  app.get(
    '/v1/members/:id',
    { preHandler, schema: { tags, summary: 'One member', params, response: { 200: MemberView } } },
    async (request, reply) => {
      const member = await members.get(request.actor, request.params.id)
      return reply.header('etag', etagOf(member)).send(member)
    },
  )

  app.patch(
    '/v1/members/:id',
    {
      preHandler,
      schema: { tags, summary: 'Change a member’s role', params, body: MemberChange, response: { 200: MemberView } },
    },
    async (request, reply) => {
      const changed = await members.change(request.actor, request.params.id, requireMatch(request), request.body)
      return reply.header('etag', etagOf(changed)).send(changed)
    },
  )

  app.delete(
    '/v1/members/:id',
    { preHandler, schema: { tags, summary: 'Remove a member', params, response: { 204: z.null() } } },
    async (request, reply) => {
      await members.remove(request.actor, request.params.id, requireMatch(request))
      return reply.code(204).send(null)
    },
  )
}
