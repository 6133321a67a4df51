import type { FastifyInstance } from 'fastify'
import { OPEN_ROUTES, type Permission } from './permissions.js'
import { isGuard, permissionOf } from './requires.js'

/** A route under /v1 and what it asks for. */
export interface GuardedRoute {
  readonly method: string
  readonly url: string
  readonly permission: Permission | 'open'
}

declare module 'fastify' {
  interface FastifyInstance {
    /** Every route under /v1, as registered: what the tests of the roles go through. */
    guardedRoutes: GuardedRoute[]
  }
}

/**
 * Keeps routes under /v1 from being forgotten: one that neither requires a permission nor is on the list of open routes
 * stops the start. The check itself is moved to the front, so that nobody learns from the validation of a body what
 * they may not ask for.
 */
export function guardRoutes(app: FastifyInstance): void {
  const routes: GuardedRoute[] = []
  app.decorate('guardedRoutes', routes)
  app.addHook('onRoute', (route) => {
    if (!route.url.startsWith('/v1')) return
    const hooks = asList(route.preHandler)
    const guards = hooks.filter(isGuard)
    const permission = guards[0] && permissionOf(guards[0])
    for (const method of asList(route.method)) {
      if (permission === undefined && !isOpen(method, route.url)) {
        throw new Error(`${method} ${route.url} neither requires a permission nor is an open route`)
      }
      routes.push({ method, url: route.url, permission: permission ?? 'open' })
    }
    route.preHandler = hooks.filter((hook) => !isGuard(hook))
    route.onRequest = [...asList(route.onRequest), ...guards]
  })
}

/** The framework adds HEAD to each GET. */
function isOpen(method: string, url: string): boolean {
  return OPEN_ROUTES.has(`${method === 'HEAD' ? 'GET' : method} ${url}`)
}

function asList<Item>(value: Item | Item[] | undefined): Item[] {
  if (value === undefined) return []
  return Array.isArray(value) ? value : [value]
}
