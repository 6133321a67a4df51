import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { z } from 'zod'
import { ROLES, type Role } from '../../contract/vocabulary.js'
import { read, send } from './http.js'
import { ServiceProblem } from './problem.js'

const Me = z.object({
  name: z.string().nullish(),
  email: z.string().nullish(),
  role: z.enum(ROLES),
  organisation: z.union([z.string(), z.object({ name: z.string() }).transform((it) => it.name)]).nullish(),
  permissions: z.array(z.string()).optional(),
  demo: z.boolean().optional(),
})
export type Me = z.infer<typeof Me>

/** Roles the demo lets a visitor take. */
export const DEMO_ROLES = ['staff', 'owner', 'manager'] as const satisfies readonly Role[]
export type DemoRole = (typeof DEMO_ROLES)[number]

/** Who is signed in; null when nobody is. */
export function useMe() {
  return useQuery({
    queryKey: ['me'],
    queryFn: ({ signal }) => orNull(read(Me, '/v1/me', signal), 401),
    staleTime: 300_000,
  })
}

/** Whether this service is the demo, where a visitor may look round without an address. */
export function useIsDemo() {
  return useQuery({
    queryKey: ['demo'],
    queryFn: async ({ signal }) => (await orNull(read(z.unknown(), '/v1/demo', signal), 401, 404)) !== null,
    staleTime: Number.POSITIVE_INFINITY,
  })
}

/** Takes one of the demo's roles; all that was read as somebody else is forgotten. */
export function useLookAs() {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: (role: DemoRole) => send(z.unknown(), '/v1/demo/look-as', { body: { role } }),
    onSuccess: () => queries.resetQueries(),
  })
}

/** Asks for a link by mail that signs its reader in. */
export function useSignInByMail() {
  return useMutation({
    mutationFn: (email: string) =>
      send(z.unknown(), '/v1/auth/sign-in/magic-link', { body: { email, callbackURL: '/' } }),
  })
}

export function useSignOut() {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: () => send(z.unknown(), '/v1/auth/sign-out', {}),
    onSuccess: () => queries.resetQueries(),
  })
}

/** Sets up the organisation of a new service with the one-time link of its log. */
export function useSetUp() {
  return useMutation({
    mutationFn: (body: { token: string; organisation: string; email: string }) =>
      send(z.unknown(), '/v1/set-up', { body }),
  })
}

async function orNull<T>(answer: Promise<T>, ...statuses: number[]): Promise<T | null> {
  try {
    return await answer
  } catch (error) {
    if (error instanceof ServiceProblem && statuses.includes(error.status)) return null
    throw error
  }
}
