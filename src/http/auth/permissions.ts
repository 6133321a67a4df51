import { ROLES, type Role } from '../../contract/vocabulary.js'

/**
 * What may be done, and by whom. Which boats an owner sees is narrowed further by the services; this table says only
 * which doors there are.
 */
export const PERMISSIONS = {
  /** Who am I, and in which organisation. */
  'self:read': ROLES,
  'fleet:read': ROLES,
  /** Boats, berths, stays, fittings, anodes. */
  'fleet:write': ['administrator', 'manager', 'staff'],
  /** A boat with all that was ever logged of it. */
  'fleet:delete': ['administrator', 'manager'],
  /** What is logged while a boat is out of the water: haul-outs, weighings, potentials, photos. */
  'lift:write': ['administrator', 'manager', 'staff'],
  'fleet:import': ['administrator', 'manager'],
  'fleet:export': ['administrator', 'manager'],
  'model:read': ['administrator', 'manager', 'staff'],
  /** The whole fleet beside itself: plans of lifts, comparisons, lists of parts. */
  'desk:read': ['administrator', 'manager', 'staff'],
  'audit:read': ['administrator', 'manager'],
  /** Letters to owners: what was sent and what would be. */
  'notices:read': ['administrator', 'manager'],
  /** API keys, members, settings. */
  'organisation:manage': ['administrator'],
} as const satisfies Record<string, readonly Role[]>

export type Permission = keyof typeof PERMISSIONS

export function isPermitted(role: Role, permission: Permission): boolean {
  return (PERMISSIONS[permission] as readonly Role[]).includes(role)
}

/** The routes under /v1 that need no identity, as "METHOD path". Any other must carry `requires(…)`. */
export const OPEN_ROUTES: ReadonlySet<string> = new Set([
  'GET /v1/openapi.json',
  'GET /v1/demo',
  'POST /v1/auth/sign-in/magic-link',
  'GET /v1/auth/magic-link/verify',
  'POST /v1/auth/magic-link/verify',
  'POST /v1/auth/sign-out',
  'POST /v1/set-up',
  // Whoever has the private link: it holds a secret.
  'GET /v1/calendars/:file',
  // Whoever has the letter: its link is signed.
  'GET /v1/letters/:token',
  'POST /v1/letters/:token',
  'POST /v1/letters/:token/unsubscribe',
  // Registered in the demo alone.
  'POST /v1/demo/look-as',
])
