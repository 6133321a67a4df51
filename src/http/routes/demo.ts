import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { LookAs } from '../../contract/organisations.js'
import type { DemoPeople } from '../../services/access/demo-people.js'
import type { SignIn } from '../../services/access/sign-in.js'
import { refuseForeignOrigin } from '../auth/origin.js'

interface DemoRoutesOptions {
  readonly people: DemoPeople
  readonly signIn: SignIn
  readonly publicUrl: string
}

/** The demo's door: look as one of its invented people. Registered in the demo alone. */
export const demoRoutes: FastifyPluginAsyncZod<DemoRoutesOptions> = async (app, { people, signIn, publicUrl }) => {
  app.post(
    '/v1/demo/look-as',
    {
      schema: {
        tags: ['Sign-in'],
        summary: 'Look at the demo as somebody of this role',
        body: LookAs,
        response: { 204: z.null() },
      },
    },
    async (request, reply) => {
      refuseForeignOrigin(request, publicUrl)
      const address = await people.addressOf(request.body.role)
      const cookies = await signIn.cookiesOf(address, request.headers['user-agent'] ?? '')
      return reply.header('set-cookie', cookies).code(204).send(null)
    },
  )
}
