import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { BoatParams } from '../../contract/boats.js'
import { ReportQuery } from '../../contract/reports.js'
import type { PreferenceService } from '../../services/access/preferences.js'
import type { ReportService, WrittenReport } from '../../services/reports/report-service.js'
import { personOf } from '../auth/identity.js'
import { requires } from '../auth/requires.js'

const PDF = {
  description: 'Two pages, A4',
  content: { 'application/pdf': { schema: z.unknown().meta({ type: 'string', format: 'binary' }) } },
}

interface ReportRouteServices {
  readonly reports: ReportService
  readonly preferences: PreferenceService
}

export const reportRoutes: FastifyPluginAsyncZod<ReportRouteServices> = async (app, { reports, preferences }) => {
  app.get(
    '/v1/boats/:boat/report.pdf',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags: ['Haul-outs'],
        summary: 'Print the report of a haul-out',
        description:
          'For owner or surveyor. First page: what was found at that lift, findings, cautions. Second page: depletion plots, dates with intervals and risks as of today, what to order for the next lift, the worst pairs of metals.',
        params: BoatParams,
        querystring: ReportQuery,
        response: { 200: PDF },
      },
    },
    async (request, reply) => {
      const { haulOut, language } = request.query
      const person = personOf(request)
      const chosen = await preferences.of(person)
      // Programs read grams; what they print, people read.
      const massUnit = person === undefined ? null : chosen.massUnit
      const reading = { language: language ?? chosen.language ?? 'en', massUnit }
      const report = await reports.haulOut(request.actor, request.params.boat, { haulOut, reading })
      reply.header('content-disposition', dispositionOf(report)).header('cache-control', 'private, no-store')
      return reply.type('application/pdf').send(report.bytes)
    },
  )
}

/** The name that it is saved under: RFC 6266, with the boat's own letters for browsers and plain ones for the rest. */
function dispositionOf({ boat, hauledOn }: WrittenReport): string {
  const name = ['haul-out', boat, hauledOn].filter((part) => part !== null).join(' ')
  const plain = name.replace(/[^\w .-]+/g, '-')
  const whole = encodeURIComponent(name.replace(/\p{Surrogate}/gu, '')).replace(
    /['()*]/g,
    (sign) => `%${sign.charCodeAt(0).toString(16)}`,
  )
  return `inline; filename="${plain}.pdf"; filename*=UTF-8''${whole}.pdf`
}
