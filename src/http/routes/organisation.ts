import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { AuditPage, AuditQuery, OrganisationChange, OrganisationView } from '../../contract/organisations.js'
import type { AuditTrail } from '../../services/organisations/audit-trail.js'
import type { OrganisationService } from '../../services/organisations/organisation-service.js'
import { requires } from '../auth/requires.js'
import { etagOf, requireMatch } from '../etag.js'

interface OrganisationRoutesOptions {
  readonly organisation: OrganisationService
  readonly audit: AuditTrail
}

const tags = ['Organisation']

/** Settings of the organisation, and its audit trail. */
export const organisationRoutes: FastifyPluginAsyncZod<OrganisationRoutesOptions> = async (app, services) => {
  app.get(
    '/v1/organisation',
    {
      preHandler: requires('self:read'),
      schema: { tags, summary: 'The organisation', response: { 200: OrganisationView } },
    },
    async (request, reply) => {
      const organisation = await services.organisation.get(request.actor)
      return reply.header('etag', etagOf(organisation)).send(organisation)
    },
  )

  app.patch(
    '/v1/organisation',
    {
      preHandler: requires('organisation:manage'),
      schema: {
        tags,
        summary: 'Change name, wasting threshold or rate of false discoveries',
        body: OrganisationChange,
        response: { 200: OrganisationView },
      },
    },
    async (request, reply) => {
      const changed = await services.organisation.change(request.actor, requireMatch(request), request.body)
      return reply.header('etag', etagOf(changed)).send(changed)
    },
  )

  app.get(
    '/v1/audit',
    {
      preHandler: requires('audit:read'),
      schema: {
        tags,
        summary: 'The audit trail, newest first',
        querystring: AuditQuery,
        response: { 200: AuditPage },
      },
    },
    (request) => services.audit.page(request.actor, request.query),
  )
}
