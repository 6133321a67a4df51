import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import {
  Acknowledgement,
  CheckList,
  FindingDetail,
  FindingPage,
  FindingParams,
  FindingQuery,
  NewCheck,
  NewResolution,
  Reopening,
} from '../../contract/findings.js'
import { allChecks } from '../../services/findings/checks.js'
import type { FindingService } from '../../services/findings/finding-service.js'
import type { FindingSteps } from '../../services/findings/finding-steps.js'
import { requires } from '../auth/requires.js'
import { IfMatch, matchIfGiven, sendTagged } from '../etag.js'

interface FindingRoutesOptions {
  readonly findings: FindingService
  readonly findingSteps: FindingSteps
}

const tags = ['Findings']

export const findingRoutes: FastifyPluginAsyncZod<FindingRoutesOptions> = async (app, { findings, findingSteps }) => {
  app.get(
    '/v1/findings',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: 'Abnormal wear with its likely causes',
        description:
          'Today: as kept, with the state that people have brought each to. Another day: what was to be found then, from what was known by then.',
        querystring: FindingQuery,
        response: { 200: FindingPage },
      },
    },
    (request) => findings.page(request.actor, request.query),
  )

  app.get(
    '/v1/findings/:finding',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags,
        summary: 'Read a finding with its life',
        params: FindingParams,
        response: { 200: FindingDetail },
      },
    },
    async (request, reply) => sendTagged(reply, await findings.read(request.actor, request.params.finding)),
  )

  app.get(
    '/v1/checks',
    {
      preHandler: requires('fleet:read'),
      schema: { tags, summary: 'Every check that can be recorded', response: { 200: CheckList } },
    },
    () => ({ items: allChecks() }),
  )

  const step = (summary: string, description: string) => ({
    tags,
    summary,
    description: `${description} With If-Match it is refused (412) where somebody has taken a step since.`,
    params: FindingParams,
    headers: IfMatch,
    response: { 200: FindingDetail },
  })

  app.post(
    '/v1/findings/:finding/acknowledge',
    {
      preHandler: requires('lift:write'),
      schema: { ...step('Acknowledge a finding', 'Somebody has seen it.'), body: Acknowledgement },
    },
    async (request, reply) => {
      const { finding } = request.params
      await findingSteps.acknowledge(request.actor, finding, matchIfGiven(request), request.body)
      return sendTagged(reply, await findings.read(request.actor, finding))
    },
  )

  app.post(
    '/v1/findings/:finding/checks',
    {
      preHandler: requires('lift:write'),
      schema: {
        ...step('Record a check', 'Its outcome is evidence: the causes are weighed anew at once.'),
        body: NewCheck,
      },
    },
    async (request, reply) => {
      const { finding } = request.params
      await findingSteps.check(request.actor, finding, matchIfGiven(request), request.body)
      return sendTagged(reply, await findings.read(request.actor, finding))
    },
  )

  app.post(
    '/v1/findings/:finding/resolve',
    {
      preHandler: requires('lift:write'),
      schema: {
        ...step('Resolve a finding', 'Says what was done, and what it was. Wear after that day opens it again.'),
        body: NewResolution,
      },
    },
    async (request, reply) => {
      const { finding } = request.params
      await findingSteps.resolve(request.actor, finding, matchIfGiven(request), request.body)
      return sendTagged(reply, await findings.read(request.actor, finding))
    },
  )

  app.post(
    '/v1/findings/:finding/reopen',
    {
      preHandler: requires('lift:write'),
      schema: { ...step('Reopen a finding', 'It was settled, and is not after all.'), body: Reopening },
    },
    async (request, reply) => {
      const { finding } = request.params
      await findingSteps.reopen(request.actor, finding, matchIfGiven(request), request.body)
      return sendTagged(reply, await findings.read(request.actor, finding))
    },
  )
}
