import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import type { z } from 'zod'
import { ApiKeyCreated, ApiKeyPage, type ApiKeyRequest, type ApiKeyView } from '../../contract/access.js'
import { MemberPage, type MemberRequest, MemberView } from '../../contract/organisations.js'
import type { Role } from '../../contract/vocabulary.js'
import { amend, readAll, remove, send } from './http.js'
import { newKey } from './request-key.js'

const MEMBERS = '/v1/members'
const KEYS = '/v1/api-keys'

export function useMembers() {
  return useQuery({
    queryKey: ['members'],
    queryFn: ({ signal }) => readAll(MemberPage, `${MEMBERS}?sort=email`, signal),
  })
}

export function useInvite() {
  const again = useAgain('members')
  return useMutation({
    mutationFn: (body: MemberRequest) => send(MemberView, MEMBERS, { body, idempotencyKey: newKey() }),
    onSuccess: again,
  })
}

/** Refused where somebody else has changed the member since the list was read. */
export function useChangeRole() {
  const again = useAgain('members')
  return useMutation({
    mutationFn: ({ id, version, role }: Pick<MemberView, 'id' | 'version'> & { role: Role }) =>
      amend(MemberView, `${MEMBERS}/${id}`, { body: { role }, basedOn: version }),
    onSettled: again,
  })
}

export function useRemoveMember() {
  const again = useAgain('members')
  return useMutation({
    mutationFn: ({ id, version }: MemberView) => remove(`${MEMBERS}/${id}`, version),
    onSettled: again,
  })
}

export function useApiKeys() {
  return useQuery({
    queryKey: ['api-keys'],
    queryFn: ({ signal }) => readAll(ApiKeyPage, `${KEYS}?sort=-createdAt`, signal),
  })
}

/** The answer holds the key itself, this once. */
export function useMakeApiKey() {
  const again = useAgain('api-keys')
  return useMutation({
    mutationFn: (body: z.input<typeof ApiKeyRequest>) => send(ApiKeyCreated, KEYS, { body }),
    onSuccess: again,
  })
}

export function useRevokeApiKey() {
  const again = useAgain('api-keys')
  return useMutation({
    mutationFn: ({ id, version }: ApiKeyView) => remove(`${KEYS}/${id}`, version),
    onSettled: again,
  })
}

/** The answer holds the new secret, this once; the one before opens for a day more. */
export function useRenewSecret() {
  const again = useAgain('api-keys')
  return useMutation({
    mutationFn: ({ id, version }: ApiKeyView) =>
      send(ApiKeyCreated, `${KEYS}/${id}/secret`, { body: {}, basedOn: version }),
    onSettled: again,
  })
}

/** What was read is read again. */
function useAgain(key: string) {
  const queries = useQueryClient()
  return () => queries.invalidateQueries({ queryKey: [key] })
}
