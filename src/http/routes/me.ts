import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { DemoView, Me, OrganisationChoice } from '../../contract/organisations.js'
import { organisationCookie } from '../../services/access/cookie-names.js'
import type { OrganisationService } from '../../services/organisations/organisation-service.js'
import { isInScope, isPermitted, PERMISSIONS, type Permission } from '../auth/permissions.js'
import { requires } from '../auth/requires.js'
import { HttpProblem } from '../problem.js'

interface MeRoutesOptions {
  readonly organisation: OrganisationService
  readonly demo: boolean
  readonly publicUrl: string
}

const YEAR_S = 365 * 86_400

/** Who am I, where may I go, and where am I now. */
export const meRoutes: FastifyPluginAsyncZod<MeRoutesOptions> = async (app, { organisation, demo, publicUrl }) => {
  app.get(
    '/v1/me',
    {
      preHandler: requires('self:read'),
      schema: { tags: ['Sign-in'], summary: 'Who asks, and what they may do', response: { 200: Me } },
    },
    async (request) => {
      const { actor, identity } = request
      const { id, name } = await organisation.get(actor)
      const person = identity?.kind === 'person' ? identity : undefined
      return {
        kind: person ? ('person' as const) : ('key' as const),
        actor: actor.actor,
        email: person?.email ?? null,
        role: actor.role,
        scope: identity?.kind === 'key' ? identity.scope : null,
        permissions: (Object.keys(PERMISSIONS) as Permission[]).filter(
          (one) => isPermitted(actor.role, one) && (identity?.kind !== 'key' || isInScope(identity.scope, one)),
        ),
        organisation: { id, name },
        memberships: person ? [...person.memberships] : [{ organisationId: id, organisation: name, role: actor.role }],
        demo,
        publicUrl,
      }
    },
  )

  app.get(
    '/v1/demo',
    { schema: { tags: ['Sign-in'], summary: 'Whether this is the demo', response: { 200: DemoView } } },
    async () => ({ demo }),
  )

  app.post(
    '/v1/me/organisation',
    {
      preHandler: requires('self:read'),
      schema: {
        tags: ['Sign-in'],
        summary: 'Act in another organisation from now on',
        description: 'Kept in a cookie; the header X-Organisation does the same for one request.',
        body: OrganisationChoice,
        response: { 204: z.null() },
      },
    },
    async (request, reply) => {
      const { organisationId } = request.body
      const memberships = request.identity?.kind === 'person' ? request.identity.memberships : []
      if (!memberships.some((one) => one.organisationId === organisationId)) {
        throw new HttpProblem(403, 'organisationId names no organisation of this person')
      }
      const { name, options } = organisationCookie(publicUrl)
      return reply
        .setCookie(name, organisationId, { ...options, maxAge: YEAR_S })
        .code(204)
        .send(null)
    },
  )
}
