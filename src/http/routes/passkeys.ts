import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import {
  NewPasskey,
  PasskeyList,
  PasskeyParams,
  PasskeyQuestion,
  PasskeySignIn,
  PasskeyView,
} from '../../contract/passkeys.js'
import type { AttemptLimit, Attempts } from '../../services/access/attempts.js'
import type { PasskeyService } from '../../services/access/passkeys.js'
import { personOf } from '../auth/identity.js'
import { limitAttempts } from '../auth/limit-attempts.js'
import { refuseForeignOrigin } from '../auth/origin.js'
import { requires } from '../auth/requires.js'

const tags = ['Sign-in']
const preHandler = requires('self:read')
/** A person shows theirs once or twice. */
const SHOWN_PASSKEYS: AttemptLimit = { what: 'passkey', max: 60, withinMs: 15 * 60_000 }

/** Passkeys of whoever asks, and the way in by one. */
export const passkeyRoutes: FastifyPluginAsyncZod<{
  passkeys: PasskeyService
  publicUrl: string
  attempts: Attempts | undefined
}> = async (app, { passkeys, publicUrl, attempts }) => {
  app.get(
    '/v1/me/passkeys',
    { preHandler, schema: { tags, summary: 'Passkeys of whoever asks', response: { 200: PasskeyList } } },
    (request) => passkeys.list(personOf(request)),
  )
  app.post(
    '/v1/me/passkeys/question',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Ask a device for a new passkey',
        description: 'Its answer goes to POST /v1/me/passkeys.',
        response: { 200: PasskeyQuestion },
      },
    },
    (request) => passkeys.askToAdd(personOf(request)),
  )
  app.post(
    '/v1/me/passkeys',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Add the passkey that a device made',
        description: 'The person is told by mail.',
        body: NewPasskey,
        response: { 201: PasskeyView },
      },
    },
    async (request, reply) => {
      const made = await passkeys.add(personOf(request), request.body, request.headers['user-agent'] ?? '')
      return reply.code(201).send(made)
    },
  )
  app.delete(
    '/v1/me/passkeys/:passkey',
    {
      preHandler,
      schema: {
        tags,
        summary: 'Remove a passkey',
        description: 'It opens nothing from then on; sessions that it opened stay.',
        params: PasskeyParams,
        response: { 204: z.null() },
      },
    },
    async (request, reply) => {
      await passkeys.remove(personOf(request), request.params.passkey)
      return reply.code(204).send(null)
    },
  )
  app.post(
    '/v1/auth/passkey/question',
    {
      schema: {
        tags,
        summary: 'Ask a device who holds it',
        description: 'Its answer goes to POST /v1/auth/passkey.',
        response: { 200: PasskeyQuestion },
      },
    },
    (request) => {
      refuseForeignOrigin(request, publicUrl)
      return passkeys.askWho()
    },
  )
  app.post(
    '/v1/auth/passkey',
    {
      preHandler: limitAttempts(attempts, SHOWN_PASSKEYS),
      schema: {
        tags,
        summary: 'Sign in by a passkey',
        description: 'Sets the session’s cookie.',
        body: PasskeySignIn,
        response: { 204: z.null() },
      },
    },
    async (request, reply) => {
      refuseForeignOrigin(request, publicUrl)
      const cookies = await passkeys.signIn(request.body, request.headers['user-agent'] ?? '')
      return reply.header('set-cookie', cookies).code(204).send(null)
    },
  )
}
