import type { FastifyRequest } from 'fastify'
import { HttpProblem } from '../problem.js'
import { isInScope, isPermitted, mayChange, type Permission } from './permissions.js'

/** A check that fits any hook which comes before the handler. */
export type Guard = (request: FastifyRequest) => Promise<void>

declare module 'fastify' {
  interface FastifyContextConfig {
    /** A POST that changes nothing. */
    onlyComputes?: true
  }
}

const permissions = new WeakMap<object, Permission>()

/**
 * The permission that a route asks for, as its `preHandler`.
 *
 * @throws HttpProblem 401 without an identity, 403 when its role lacks the permission
 * @example app.get('/v1/boats', { preHandler: requires('fleet:read'), schema }, handler)
 */
export function requires(permission: Permission): Guard {
  const check = async (request: FastifyRequest) => checkPermission(request, permission)
  permissions.set(check, permission)
  return check
}

/** The permission behind a hook made by `requires`. */
export function permissionOf(hook: object): Permission | undefined {
  return permissions.get(hook)
}

export function isGuard(hook: object): hook is Guard {
  return permissions.has(hook)
}

/** Some sums need more to be said than an address holds: they are asked by POST and change nothing. */
function isReading({ method, routeOptions }: FastifyRequest): boolean {
  return method === 'GET' || method === 'HEAD' || routeOptions.config.onlyComputes === true
}

function checkPermission(request: FastifyRequest, permission: Permission): void {
  if (!isPermitted(request.actor.role, permission)) {
    throw new HttpProblem(403, `the role ${request.actor.role} may not do this; it needs the permission ${permission}`)
  }
  const { identity } = request
  if (identity?.kind !== 'key') return
  const { scope } = identity
  if (!isInScope(scope, permission) || !mayChange(scope, isReading(request))) {
    throw new HttpProblem(
      403,
      `the scope "${scope}" of this key does not cover this; it needs the permission ${permission}`,
    )
  }
}
