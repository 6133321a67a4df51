import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { BoatParams } from '../../contract/boats.js'
import { RecordQuestionsView } from '../../contract/record-questions.js'
import type { RecordQuestionService } from '../../services/findings/record-questions.js'
import { requires } from '../auth/requires.js'

interface RecordQuestionRoutesOptions {
  readonly recordQuestions: RecordQuestionService
}

export const recordQuestionRoutes: FastifyPluginAsyncZod<RecordQuestionRoutesOptions> = async (
  app,
  { recordQuestions },
) => {
  app.get(
    '/v1/boats/:boat/questions',
    {
      preHandler: requires('fleet:read'),
      schema: {
        tags: ['Boats'],
        summary: 'Readings of a boat to look at again: what cannot be, or cannot be together',
        params: BoatParams,
        response: { 200: RecordQuestionsView },
      },
    },
    (request) => recordQuestions.ofBoat(request.actor, request.params.boat),
  )
}
