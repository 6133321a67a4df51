import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { PreferencesChange, PreferencesView } from '../../contract/preferences.js'
import type { PreferenceService } from '../../services/access/preferences.js'
import { personOf } from '../auth/identity.js'
import { requires } from '../auth/requires.js'

const tags = ['Sign-in']
const preHandler = requires('self:read')

/** How whoever asks likes to read. */
export const preferenceRoutes: FastifyPluginAsyncZod<{ preferences: PreferenceService }> = async (
  app,
  { preferences },
) => {
  app.get(
    '/v1/me/preferences',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Language, units and time zone of whoever asks',
        description: 'A key of a program reads the defaults: English, grams, degrees Celsius, UTC.',
        response: { 200: PreferencesView },
      },
    },
    (request) => preferences.of(personOf(request)),
  )

  app.patch(
    '/v1/me/preferences',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Change language, units or time zone',
        body: PreferencesChange,
        response: { 200: PreferencesView },
      },
    },
    (request) => preferences.change(personOf(request), request.body),
  )
}
