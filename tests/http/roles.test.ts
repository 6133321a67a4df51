import fastify from 'fastify'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ROLES, type Role } from '../../src/contract/vocabulary.js'
import { guardRoutes } from '../../src/http/auth/guard-routes.js'
import { isPermitted, PERMISSIONS, type Permission } from '../../src/http/auth/permissions.js'
import { requires } from '../../src/http/auth/requires.js'
import { expectProblem } from './problem-schema.js'
import { type Credentials, startTestServer, type TestServer } from './server.js'

let server: TestServer
beforeAll(async () => {
  server = await startTestServer({ demo: true })
})
afterAll(() => server.close())

/** The roles as the yard knows them, written down a second time: administrator, manager, staff, owner. */
const YARD: Record<Permission, string> = {
  'self:read': 'yes yes yes yes',
  'fleet:read': 'yes yes yes yes',
  'fleet:write': 'yes yes yes no',
  'fleet:delete': 'yes yes no no',
  'lift:write': 'yes yes yes no',
  'fleet:import': 'yes yes no no',
  'pontoons:draw': 'yes yes no no',
  'fleet:export': 'yes yes no no',
  'model:read': 'yes yes yes no',
  'desk:read': 'yes yes yes no',
  'audit:read': 'yes yes no no',
  'notices:read': 'yes yes no no',
  'prices:write': 'yes yes no no',
  'status:read': 'yes no no no',
  'organisation:manage': 'yes no no no',
}

it.each(Object.keys(YARD) as Permission[])('%s belongs to the roles that the yard gave it', (permission) => {
  const roles: Role[] = ['administrator', 'manager', 'staff', 'owner']
  expect(roles.map((role) => (isPermitted(role, permission) ? 'yes' : 'no')).join(' ')).toBe(YARD[permission])
})

it('knows no permission besides', () => {
  expect(Object.keys(PERMISSIONS).sort()).toEqual(Object.keys(YARD).sort())
})

const NOBODY = 'nobody'

describe.each([...ROLES, NOBODY] as const)('%s', (role) => {
  let credentials: Credentials
  beforeAll(async () => {
    credentials = role === NOBODY ? {} : await server.actorOf(role)
  })

  it('comes through just the doors of the table, on every route', async () => {
    const wrong: string[] = []
    for (const route of server.app.guardedRoutes) {
      // Ids that nothing has: whoever comes through finds nothing there, and changes nothing.
      const url = route.url.replaceAll(/:[\w]+/g, '00000000-0000-4000-8000-000000000000')
      // Open doors are tried by nobody: one of them is the sign-out.
      const headers = route.permission === 'open' ? {} : credentials
      const answer = await server.app.inject({ method: route.method as 'GET', url, headers })
      const came = answer.statusCode === 401 || answer.statusCode === 403 ? answer.statusCode : 'in'
      if (came !== expected(role, route.permission)) wrong.push(`${route.method} ${route.url}: ${came}`)
      if (answer.statusCode >= 500) wrong.push(`${route.method} ${route.url}: ${answer.statusCode} ${answer.body}`)
    }
    expect(wrong).toEqual([])
  })
})

function expected(role: Role | typeof NOBODY, permission: Permission | 'open'): 'in' | 401 | 403 {
  if (permission === 'open') return 'in'
  if (role === NOBODY) return 401
  return isPermitted(role, permission) ? 'in' : 403
}

describe('the table of routes', () => {
  it('holds what the service offers', () => {
    const routes = server.app.guardedRoutes.map(({ method, url }) => `${method} ${url}`)
    for (const one of ['GET /v1/me', 'GET /v1/boats', 'POST /v1/calculators/mean-current', 'DELETE /v1/api-keys/:id']) {
      expect(routes).toContain(one)
    }
  })

  it('refuses at the start a route that nobody guards', async () => {
    const app = fastify()
    guardRoutes(app)
    expect(() => app.get('/v1/forgotten', async () => ({}))).toThrow('GET /v1/forgotten neither requires a permission')
    app.get('/v1/guarded', { preHandler: requires('fleet:read') }, async () => ({}))
    expect(app.guardedRoutes).toContainEqual({ method: 'GET', url: '/v1/guarded', permission: 'fleet:read' })
    await app.close()
  })

  it('asks for the permission before it reads what was sent', async () => {
    const headers = await server.actorOf('owner')
    const payload = { nonsense: true }
    expectProblem(await server.app.inject({ method: 'POST', url: '/v1/boats', headers, payload }), 403)
    expectProblem(await server.app.inject({ method: 'POST', url: '/v1/boats', payload }), 401)
  })
})
