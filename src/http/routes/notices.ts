import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import {
  NoticePage,
  NoticePreview,
  NoticeQuery,
  PreviewQuery,
  ReminderSettings,
  ReminderSettingsChange,
} from '../../contract/notices.js'
import type { NoticeService } from '../../services/notices/notice-service.js'
import { requires } from '../auth/requires.js'

const tags = ['Notices']
const preHandler = requires('notices:read')
const mayChange = { preHandler: requires('organisation:manage') }

/** What an organisation writes to owners: when, what was sent to whom and why, what would be. */
export const noticeRoutes: FastifyPluginAsyncZod<{ notices: NoticeService }> = async (app, { notices }) => {
  app.get(
    '/v1/reminders',
    { preHandler, schema: { tags, summary: 'When owners are written to', response: { 200: ReminderSettings } } },
    (request) => notices.settings(request.actor),
  )
  app.patch(
    '/v1/reminders',
    {
      ...mayChange,
      schema: {
        tags,
        summary: 'Change when owners are written to',
        description: 'Switched on, letters that are due are decided at once and sent outside the quiet hours.',
        body: ReminderSettingsChange,
        response: { 200: ReminderSettings },
      },
    },
    (request) => notices.change(request.actor, request.body),
  )
  app.get(
    '/v1/notices',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Letters, with why they were sent and what became of them',
        querystring: NoticeQuery,
        response: { 200: NoticePage },
      },
    },
    (request) => notices.page(request.actor, request.query),
  )
  app.get(
    '/v1/notices/preview',
    {
      preHandler,
      schema: {
        tags,
        summary: 'What would be sent over the coming days as things stand',
        querystring: PreviewQuery,
        response: { 200: NoticePreview },
      },
    },
    (request) => notices.preview(request.actor, request.query.days),
  )
  app.post(
    '/v1/notices/:notice/retry',
    {
      ...mayChange,
      schema: {
        tags,
        summary: 'Try a letter again that was given up or refused',
        params: z.object({ notice: z.uuid() }),
        response: { 204: z.null() },
      },
    },
    async (request, reply) => {
      await notices.retry(request.actor, request.params.notice)
      return reply.status(204).send(null)
    },
  )
}
