import type { FastifyReply } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import {
  CalendarQuery,
  ComparisonQuery,
  Comparisons,
  DepletionPage,
  DepletionQuery,
  DeskBoatPage,
  DeskBoatQuery,
  DeskCalendar,
} from '../../contract/desk.js'
import { LiftPlanAnswer, LiftPlanRequest, PartsList, PartsQuery } from '../../contract/desk-plan.js'
import {
  boatsFile,
  calendarFile,
  comparisonsFile,
  depletionFile,
  liftPlanFile,
  partsFile,
} from '../../services/desk/desk-files.js'
import type { DeskService } from '../../services/desk/desk-service.js'
import type { LiftPlanService } from '../../services/desk/lift-plan-service.js'
import { requires } from '../auth/requires.js'

export interface DeskRoutes {
  readonly desk: DeskService
  readonly liftPlan: LiftPlanService
}

const tags = ['Fleet desk']
const preHandler = requires('desk:read')
const CSV_TYPE = 'text/csv; charset=utf-8'
const csv = {
  200: {
    description: 'A table for a spreadsheet; a text that begins like a formula has an apostrophe before it',
    content: { 'text/csv': { schema: z.any().meta({ type: 'string', format: 'binary' }) } },
  },
}

function sendCsv(reply: FastifyReply, name: string, text: string): FastifyReply {
  // With its mark a spreadsheet takes it for UTF-8.
  const content = Buffer.from(`\uFEFF${text}`, 'utf8')
  return reply.header('content-disposition', `attachment; filename="${name}"`).type(CSV_TYPE).send(content)
}

/** The fleet at a glance, for whoever plans the lifts. Each answer also comes as a file for a spreadsheet. */
export const deskRoutes: FastifyPluginAsyncZod<DeskRoutes> = async (app, services) => {
  await app.register(glanceRoutes, services)
  await app.register(glanceFiles, services)
  await app.register(planRoutes, services)
}

const glanceRoutes: FastifyPluginAsyncZod<DeskRoutes> = async (app, { desk }) => {
  app.get(
    '/v1/desk/boats',
    {
      preHandler,
      schema: {
        tags,
        summary: 'All boats, what is due first on each',
        querystring: DeskBoatQuery,
        response: { 200: DeskBoatPage },
      },
    },
    (request) => desk.boats(request.actor, request.query),
  )
  app.get(
    '/v1/desk/calendar',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Due dates and planned lifts by month or week',
        querystring: CalendarQuery,
        response: { 200: DeskCalendar },
      },
    },
    (request) => desk.calendar(request.actor, request.query),
  )
  app.get(
    '/v1/desk/depletion',
    {
      preHandler,
      schema: {
        tags,
        summary: 'How far the worst anode of each boat was gone, and will be, by month',
        description: 'As if nothing were replaced from today on. Middle estimates.',
        querystring: DepletionQuery,
        response: { 200: DepletionPage },
      },
    },
    (request) => desk.depletion(request.actor, request.query),
  )
  app.get(
    '/v1/desk/comparisons',
    {
      preHandler,
      schema: {
        tags,
        summary: 'How fast anodes go by berth, pontoon, alloy or position, all else alike',
        querystring: ComparisonQuery,
        response: { 200: Comparisons },
      },
    },
    (request) => desk.comparisons(request.actor, request.query),
  )
}

const glanceFiles: FastifyPluginAsyncZod<DeskRoutes> = async (app, { desk }) => {
  app.get(
    '/v1/desk/boats.csv',
    { preHandler, schema: { tags, summary: 'All boats, as a file', querystring: DeskBoatQuery, response: csv } },
    async (request, reply) => sendCsv(reply, 'boats.csv', boatsFile(await desk.boats(request.actor, request.query))),
  )
  app.get(
    '/v1/desk/calendar.csv',
    {
      preHandler,
      schema: { tags, summary: 'Due dates and planned lifts, as a file', querystring: CalendarQuery, response: csv },
    },
    async (request, reply) =>
      sendCsv(reply, 'calendar.csv', calendarFile(await desk.calendar(request.actor, request.query))),
  )
  app.get(
    '/v1/desk/depletion.csv',
    {
      preHandler,
      schema: { tags, summary: 'Depletion by month, as a file', querystring: DepletionQuery, response: csv },
    },
    async (request, reply) =>
      sendCsv(reply, 'depletion.csv', depletionFile(await desk.depletion(request.actor, request.query))),
  )
  app.get(
    '/v1/desk/comparisons.csv',
    { preHandler, schema: { tags, summary: 'Comparisons, as a file', querystring: ComparisonQuery, response: csv } },
    async (request, reply) =>
      sendCsv(reply, 'comparisons.csv', comparisonsFile(await desk.comparisons(request.actor, request.query))),
  )
}

const planRoutes: FastifyPluginAsyncZod<DeskRoutes> = async (app, { liftPlan }) => {
  app.post(
    '/v1/desk/lift-plan',
    {
      preHandler,
      config: { onlyComputes: true },
      schema: {
        tags,
        summary: 'The fewest lifts that keep every anode within a risk',
        description:
          'Each boat as late as it may. Nothing is stored: put the lifts into the calendar with POST /v1/planned-lifts.',
        body: LiftPlanRequest,
        response: { 200: LiftPlanAnswer },
      },
    },
    (request) => liftPlan.plan(request.actor, request.body),
  )
  app.post(
    '/v1/desk/lift-plan.csv',
    {
      preHandler,
      config: { onlyComputes: true },
      schema: { tags, summary: 'The same, as a file', body: LiftPlanRequest, response: csv },
    },
    async (request, reply) =>
      sendCsv(reply, 'lift-plan.csv', liftPlanFile(await liftPlan.plan(request.actor, request.body))),
  )
  app.get(
    '/v1/desk/parts',
    {
      preHandler,
      schema: {
        tags,
        summary: 'What to replace at the planned lifts, and to order',
        querystring: PartsQuery,
        response: { 200: PartsList },
      },
    },
    (request) => liftPlan.parts(request.actor, request.query),
  )
  app.get(
    '/v1/desk/parts.csv',
    { preHandler, schema: { tags, summary: 'What to order, as a file', querystring: PartsQuery, response: csv } },
    async (request, reply) =>
      sendCsv(reply, 'parts.csv', partsFile(await liftPlan.parts(request.actor, request.query))),
  )
}
