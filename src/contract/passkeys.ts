import { z } from 'zod'

/** An answer of a device with its attestation is some hundred bytes; extensions may add to it. */
const LONGEST_PART = 20_000
/** WebAuthn Level 3, 4: at most 1,023 bytes, as base64url. */
const LONGEST_ID = 1364

const Encoded = z
  .string()
  .min(1)
  .max(LONGEST_PART)
  .regex(/^[\w-]+$/, 'must be base64url without padding')
const CredentialId = z
  .string()
  .min(1)
  .max(LONGEST_ID)
  .regex(/^[\w-]+$/, 'must be base64url without padding')

const CREDENTIAL_ID = 'kQ2tY4n8Zz1uQe3rVt9sLw'
const CEREMONY = '7d1f7c52-3c5b-4f2e-9a53-0f5a6d5c2b11'

/** What every answer of a device has (WebAuthn Level 3, 5.1: RegistrationResponseJSON, AuthenticationResponseJSON). */
const answered = {
  id: CredentialId,
  rawId: CredentialId,
  type: z.literal('public-key'),
  authenticatorAttachment: z.string().max(50).nullish(),
  clientExtensionResults: z.looseObject({}),
}

const RegistrationAnswer = z.object({
  ...answered,
  response: z.object({
    clientDataJSON: Encoded,
    attestationObject: Encoded,
    transports: z.array(z.string().max(50)).max(10).optional(),
  }),
})

const SignInAnswer = z.object({
  ...answered,
  response: z.object({
    clientDataJSON: Encoded,
    authenticatorData: Encoded,
    signature: Encoded,
    userHandle: z.string().max(LONGEST_ID).nullish(),
  }),
})

const ceremony = z.uuid().meta({ description: 'Which question the device answers: each is good for one answer' })

/** The options of the WebAuthn API, as JSON: what a browser hands to the device. */
const options = z.looseObject({ challenge: z.string() })

export const PasskeyQuestion = z.object({ ceremony, options }).meta({
  id: 'PasskeyQuestion',
  description: 'For navigator.credentials (WebAuthn Level 3, 5.1.8 and 5.1.9); good for five minutes',
  examples: [
    {
      ceremony: CEREMONY,
      options: {
        challenge: 'yXzc6gkQx5vUoLrt54w4rJUsVJzLQ3raZJfFBR0aqvM',
        rpId: 'yard.example.org',
        userVerification: 'required',
      },
    },
  ],
})
export type PasskeyQuestion = z.infer<typeof PasskeyQuestion>

const answerExample = {
  id: CREDENTIAL_ID,
  rawId: CREDENTIAL_ID,
  type: 'public-key' as const,
  clientExtensionResults: {},
}

export const NewPasskey = z.strictObject({ ceremony, answer: RegistrationAnswer }).meta({
  id: 'NewPasskey',
  examples: [
    {
      ceremony: CEREMONY,
      answer: {
        ...answerExample,
        response: { clientDataJSON: 'eyJ0eXBlIjoid2ViYXV0aG4uY3JlYXRlIn0', attestationObject: 'o2NmbXRkbm9uZQ' },
      },
    },
  ],
})
export type NewPasskey = z.infer<typeof NewPasskey>

export const PasskeySignIn = z.strictObject({ ceremony, answer: SignInAnswer }).meta({
  id: 'PasskeySignIn',
  examples: [
    {
      ceremony: CEREMONY,
      answer: {
        ...answerExample,
        response: {
          clientDataJSON: 'eyJ0eXBlIjoid2ViYXV0aG4uZ2V0In0',
          authenticatorData: 'SZYN5YgOjGh0NBcPZHZgW4',
          signature: 'MEUCIQDk',
        },
      },
    },
  ],
})
export type PasskeySignIn = z.infer<typeof PasskeySignIn>

const PASSKEY_EXAMPLE = {
  id: CREDENTIAL_ID,
  browser: 'Firefox',
  system: 'Android',
  createdAt: '2031-04-18T09:30:00.000Z',
  lastUsedAt: null,
}

export const PasskeyView = z
  .object({
    id: z.string(),
    browser: z.string().nullable().meta({ description: 'In which it was added, as that gave itself out' }),
    system: z.string().nullable(),
    createdAt: z.iso.datetime(),
    lastUsedAt: z.iso.datetime().nullable(),
  })
  .meta({ id: 'Passkey', examples: [PASSKEY_EXAMPLE] })
export type PasskeyView = z.infer<typeof PasskeyView>

export const PasskeyList = z
  .object({ items: z.array(PasskeyView) })
  .meta({ id: 'PasskeyList', description: 'The oldest first', examples: [{ items: [PASSKEY_EXAMPLE] }] })

export const PasskeyParams = z.object({ passkey: CredentialId })
