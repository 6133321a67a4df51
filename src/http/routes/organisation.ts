import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { AuditPage, AuditQuery, OrganisationChange, OrganisationView } from '../../contract/organisations.js'
import type { OrganisationArchive } from '../../services/archive/organisation-archive.js'
import type { AuditTrail } from '../../services/organisations/audit-trail.js'
import type { OrganisationService } from '../../services/organisations/organisation-service.js'
import { requires } from '../auth/requires.js'
import { etagOf, requireMatch } from '../etag.js'

interface OrganisationRoutesOptions {
  readonly organisationArchive: OrganisationArchive
  readonly organisation: OrganisationService
  readonly audit: AuditTrail
}

const tags = ['Organisation']
const Bytes = z.any().meta({ type: 'string', format: 'binary' })

const ARCHIVE = `All tables as of one moment and every photo, as a ZIP archive:

- \`tables/NAME.ndjson\`: a row a line, a JSON object by the names of its columns;
- \`photos/SHA256.webp\`: the photos, by the hash that the rows of \`photos\` name;
- \`manifest.json\`: which tables with which columns and how many rows, length and SHA-256 of each file, photos that are missing.

Secrets and their hashes are not in it. To move a fleet to another installation take \`GET /v1/exports\`, which an import reads back.`

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
    '/v1/organisation/archive',
    {
      preHandler: requires('organisation:manage'),
      schema: {
        tags,
        summary: 'Take all that the organisation has on record along',
        description: ARCHIVE,
        response: { 200: { description: 'The archive', content: { 'application/zip': { schema: Bytes } } } },
      },
    },
    async (request, reply) =>
      reply
        .type('application/zip')
        .header('content-disposition', 'attachment; filename="organisation.zip"')
        .send(await services.organisationArchive.open(request.actor)),
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
