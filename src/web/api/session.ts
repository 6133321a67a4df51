import { useMutation, useQuery } from '@tanstack/react-query'
import { z } from 'zod'
import { LinkFollowed } from '../../contract/access.js'
import { type DemoRole, DemoView, Me } from '../../contract/organisations.js'
import { read, send } from './http.js'
import { ServiceProblem } from './problem.js'

export type SignedIn = z.infer<typeof Me>

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
    queryFn: async ({ signal }) => (await read(DemoView, '/v1/demo', signal)).demo,
    staleTime: Number.POSITIVE_INFINITY,
  })
}

/** Takes one of the demo's roles, then loads the page anew: all that was read as somebody else is forgotten. */
export function useLookAs() {
  return useMutation({
    mutationFn: async ({ role, then }: { role: DemoRole; then: string }) => {
      await send(z.unknown(), '/v1/demo/look-as', { body: { role } })
      await forgetOthers()
      location.assign(then)
    },
  })
}

/** Asks for a link by mail that signs its reader in. */
export function useSignInByMail() {
  return useMutation({
    mutationFn: ({ email, then }: { email: string; then: string }) =>
      send(z.unknown(), '/v1/auth/sign-in/magic-link', { body: { email, callbackURL: then } }),
  })
}

/** Spends the link of a letter, then loads the page that was asked for. */
export function useFollowLink() {
  return useMutation({
    mutationFn: async (link: { token: string; callbackURL: string }) => {
      const { page } = await send(LinkFollowed, '/v1/auth/magic-link/verify', { body: link })
      await forgetOthers()
      location.assign(page)
    },
  })
}

export function useSignOut() {
  return useMutation({
    mutationFn: async () => {
      await notNotifiedHere()
      await send(z.unknown(), '/v1/auth/sign-out', {})
      await leave()
    },
  })
}

/** Before signing out: notifications of this browser would go on to be this person's, whoever sits here next. */
export async function notNotifiedHere(): Promise<void> {
  // Fetched only here: most sign out seldom.
  const { endHere } = await import('./push.js')
  await endHere().catch(() => {})
}

/** After signing out. Whoever comes next must not find what was held here. */
export async function leave(): Promise<void> {
  await forgetOthers()
  location.assign('/sign-in')
}

/** Whoever was here before may not have signed out: their session ran out, or was ended from another device. */
export async function forgetOthers(): Promise<void> {
  // Fetched only here: most sign in and out seldom.
  const { forgetHeld } = await import('../offline/held.js')
  await forgetHeld()
}

/** Sets up the organisation of a new service with the one-time link of its log. */
export function useSetUp() {
  return useMutation({
    mutationFn: (body: { token: string; organisationName: string; email: string }) =>
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
