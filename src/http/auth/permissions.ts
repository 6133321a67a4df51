import type { KeyScope } from '../../contract/access.js'
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
  /** Pontoons on the plan of the harbour, berths on their sides. */
  'pontoons:draw': ['administrator', 'manager'],
  'fleet:export': ['administrator', 'manager'],
  'model:read': ['administrator', 'manager', 'staff'],
  /** The whole fleet beside itself: plans of lifts, comparisons, lists of parts. */
  'desk:read': ['administrator', 'manager', 'staff'],
  /** What lifts and parts cost. */
  'prices:write': ['administrator', 'manager'],
  'audit:read': ['administrator', 'manager'],
  /** Letters to owners: what was sent and what would be. */
  'notices:read': ['administrator', 'manager'],
  /** What waits and failed, the last fit, the installation. */
  'status:read': ['administrator'],
  /** API keys, members, settings. */
  'organisation:manage': ['administrator'],
} as const satisfies Record<string, readonly Role[]>

export type Permission = keyof typeof PERMISSIONS

export function isPermitted(role: Role, permission: Permission): boolean {
  return (PERMISSIONS[permission] as readonly Role[]).includes(role)
}

/** What a key of each scope has of its role's permissions. */
const SCOPES: Readonly<Record<KeyScope, readonly Permission[]>> = {
  all: Object.keys(PERMISSIONS) as Permission[],
  read: ['self:read', 'fleet:read', 'fleet:export', 'model:read', 'desk:read', 'audit:read', 'notices:read'],
  lift: ['self:read', 'fleet:read', 'model:read', 'lift:write'],
  import: ['self:read', 'fleet:import'],
}

/** Scopes that are for looking: their keys send what changes something nowhere, whatever the door. */
const LOOKING: readonly KeyScope[] = ['read']

export function isInScope(scope: KeyScope, permission: Permission): boolean {
  return SCOPES[scope].includes(permission)
}

/** @param isReading whether the request leaves everything as it is */
export function mayChange(scope: KeyScope, isReading: boolean): boolean {
  return isReading || !LOOKING.includes(scope)
}

/** The routes under /v1 that need no identity, as "METHOD path". Any other must carry `requires(…)`. */
export const OPEN_ROUTES: ReadonlySet<string> = new Set([
  'GET /v1/openapi.json',
  'GET /v1/demo',
  'POST /v1/auth/sign-in/magic-link',
  'GET /v1/auth/magic-link/verify',
  'POST /v1/auth/magic-link/verify',
  'POST /v1/auth/passkey/question',
  'POST /v1/auth/passkey',
  'POST /v1/auth/sign-out',
  'POST /v1/set-up',
  // Whoever has the private link: it holds a secret.
  'GET /v1/calendars/:file',
  // Whoever has the letter: its link is signed.
  'GET /v1/letters/:token',
  'POST /v1/letters/:token',
  'POST /v1/letters/:token/open',
  'POST /v1/letters/:token/unsubscribe',
  // Registered in the demo alone.
  'POST /v1/demo/look-as',
])
