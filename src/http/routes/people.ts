import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { PersonAsked, PersonData, PersonForgotten, PersonToForget } from '../../contract/people.js'
import type { PersonDataService } from '../../services/people/person-data.js'
import { requires } from '../auth/requires.js'

const tags = ['Organisation']
const preHandler = requires('organisation:manage')

/** A person's data: what there is, and their end. The address is in the body, for addresses of requests are logged. */
export const peopleRoutes: FastifyPluginAsyncZod<{ personData: PersonDataService }> = async (app, { personData }) => {
  app.post(
    '/v1/people/data',
    {
      preHandler,
      schema: {
        tags,
        summary: 'What is on record of a person',
        description: 'For the person’s own eyes where they ask, and to see what would be forgotten.',
        body: PersonAsked,
        response: { 200: PersonData },
      },
    },
    (request) => personData.read(request.actor, request.body),
  )
  app.post(
    '/v1/people/forget',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Forget a person',
        description:
          'Name and address go from all that the organisation has, sign-in and sessions too where no other organisation knows them; boats, weighings and findings stay, and the trail names an alias. It cannot be undone. Backups made before still hold them.',
        body: PersonToForget,
        response: { 200: PersonForgotten },
      },
    },
    (request) => personData.forget(request.actor, request.body),
  )
}
