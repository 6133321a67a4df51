import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { z } from 'zod'
import { PasskeyList, PasskeyQuestion, PasskeyView } from '../../contract/passkeys.js'
import { read, remove, send } from './http.js'
import { forgetOthers } from './session.js'

const PATH = '/v1/me/passkeys'
const SIGN_IN = '/v1/auth/passkey'
const KEY = ['passkeys']

/** A machine's number has no passkeys: the standard binds them to names (WebAuthn Level 3, 5.4.2). */
const NUMBER = /^[\d.]+$|^\[/

/** Whether this browser has passkeys, on this page. */
export function hasPasskeys(): boolean {
  return 'PublicKeyCredential' in globalThis && !NUMBER.test(location.hostname)
}

/** The device was asked and gave nothing: its holder said no, it did not know them, or it took too long. */
export class NotGiven extends Error {
  /** Why, as the standard names it (WebAuthn Level 3, 5.1.3). */
  readonly reason: string

  constructor(cause: unknown) {
    super('the device gave no passkey', { cause })
    this.name = 'NotGiven'
    this.reason = cause instanceof Error ? cause.name : ''
  }
}

export function usePasskeys() {
  return useQuery({
    queryKey: KEY,
    queryFn: async ({ signal }) => (await read(PasskeyList, PATH, signal)).items,
  })
}

/** Has this device make a passkey, and hands its public half in. */
export function useAddPasskey() {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: async () => {
      const { startRegistration } = await import('@simplewebauthn/browser')
      const { ceremony, options } = await send(PasskeyQuestion, `${PATH}/question`, {})
      const answer = await given(() => startRegistration({ optionsJSON: options as never }))
      return send(PasskeyView, PATH, { body: { ceremony, answer } })
    },
    onSettled: () => queries.invalidateQueries({ queryKey: KEY }),
  })
}

export function useRemovePasskey() {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: (id: string) => remove(`${PATH}/${id}`),
    onSettled: () => queries.invalidateQueries({ queryKey: KEY }),
  })
}

/** Signs in by a passkey of this device, then loads the page that was asked for. */
export function useSignInByPasskey() {
  return useMutation({
    mutationFn: async (then: string) => {
      const { startAuthentication } = await import('@simplewebauthn/browser')
      const { ceremony, options } = await send(PasskeyQuestion, `${SIGN_IN}/question`, {})
      const answer = await given(() => startAuthentication({ optionsJSON: options as never }))
      await send(z.unknown(), SIGN_IN, { body: { ceremony, answer } })
      await forgetOthers()
      location.assign(then)
    },
  })
}

async function given<Answer>(ask: () => Promise<Answer>): Promise<Answer> {
  try {
    return await ask()
  } catch (error) {
    throw new NotGiven(error)
  }
}
