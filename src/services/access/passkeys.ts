import { isIP } from 'node:net'
import {
  type AuthenticationResponseJSON,
  generateAuthenticationOptions,
  generateRegistrationOptions,
  type RegistrationResponseJSON,
  type VerifiedAuthenticationResponse,
  type VerifiedRegistrationResponse,
  verifyAuthenticationResponse,
  verifyRegistrationResponse,
} from '@simplewebauthn/server'
import type { NewPasskey, PasskeyQuestion, PasskeySignIn, PasskeyView } from '../../contract/passkeys.js'
import type { Db } from '../../db/client.js'
import {
  deleteChallengesBefore,
  deletePasskey,
  findPasskey,
  insertChallenge,
  insertPasskey,
  notePasskeyUsed,
  type PasskeyRow,
  passkeysOf,
  spendChallenge,
} from '../../db/repositories/passkeys.js'
import type { Mail } from '../../outside/mail.js'
import { Conflict, Invalid, NotFound } from '../errors.js'
import { found } from '../fleet/visible.js'
import { passkeyLetter } from './access-letters.js'
import { deviceOf } from './device-of.js'
import type { PreferenceService } from './preferences.js'
import type { SignedInPerson, SignIn } from './sign-in.js'

/** Time enough to find the key in a pocket and to be recognised by it. */
const ANSWER_WITHIN_MS = 5 * 60_000
/** A phone, a tablet, a desk, a few keys in drawers: whoever has more has lost count. */
const MOST_PASSKEYS = 20

/** Who asks: undefined for a program. */
type Person = SignedInPerson | undefined

export interface PasskeySurroundings {
  readonly publicUrl: string
  readonly mail: Mail
  readonly signIn: SignIn
  readonly preferences: PreferenceService
  readonly now: () => Date
  /** Told when the letter about a new key could not be sent: the key is there all the same. */
  readonly onMailFailure: (error: unknown) => void
}

/**
 * Sign-in by a key that a person's device keeps (W3C Web Authentication, Level 3), beside the link by mail, which always stays.
 * The device must recognise its holder (by finger, face or PIN): the key alone, found on a dock, opens nothing.
 */
export class PasskeyService {
  readonly #across: Db
  readonly #with: PasskeySurroundings

  constructor(across: Db, surroundings: PasskeySurroundings) {
    this.#across = across
    this.#with = surroundings
  }

  /** Empty for a program. */
  async list(person: Person): Promise<{ items: PasskeyView[] }> {
    if (person === undefined) return { items: [] }
    return { items: (await passkeysOf(this.#across, person.userId)).map(viewOf) }
  }

  /** What a device is asked so that it makes a new key. @throws NotFound for a program, Conflict, also for whom a letter signed in */
  async askToAdd(person: Person): Promise<PasskeyQuestion> {
    const { userId, email, byLetter } = found(person, 'a person behind this key, whose passkey it would be')
    // It would outlast the month that the letter opens, in the hands of whomever it was forwarded to.
    if (byLetter) throw new Conflict('a letter opened this page: sign in to add a passkey', 'by-letter')
    const known = await passkeysOf(this.#across, userId)
    if (known.length >= MOST_PASSKEYS) {
      throw new Conflict(`you have ${MOST_PASSKEYS} passkeys already: remove one first`, 'too-many')
    }
    const options = await generateRegistrationOptions({
      rpName: 'Anode Ledger',
      rpID: this.#site(),
      userName: email,
      userDisplayName: email,
      userID: new TextEncoder().encode(userId),
      timeout: ANSWER_WITHIN_MS,
      excludeCredentials: known.map(({ id, transports }) => ({ id, transports })),
      authenticatorSelection: { residentKey: 'required', userVerification: 'required' },
    })
    return this.#question(options, userId)
  }

  /** Takes the device's new key, and tells its owner by mail. @throws NotFound for a program, Invalid, Conflict where it is known */
  async add(person: Person, { ceremony, answer }: NewPasskey, userAgent: string): Promise<PasskeyView> {
    const asker = found(person, 'a person behind this key')
    const { userId } = asker
    const expectedChallenge = await this.#spend(ceremony, userId)
    const { registrationInfo } = await verified<VerifiedRegistrationResponse>(() =>
      verifyRegistrationResponse({
        response: answer as RegistrationResponseJSON,
        expectedChallenge,
        expectedOrigin: this.#origin(),
        expectedRPID: this.#site(),
      }),
    )
    const { id, publicKey, counter } = registrationInfo!.credential
    const row = await insertPasskey(this.#across, {
      id,
      userId,
      publicKey: Buffer.from(publicKey).toString('base64url'),
      counter,
      transports: answer.response.transports ?? [],
      ...deviceOf(userAgent),
    })
    if (row === undefined) throw new Conflict('this passkey is known already', 'known')
    this.#tell(asker, row)
    return viewOf(row)
  }

  /** It opens nothing from now on. @throws NotFound when it is no passkey of this person's */
  async remove(person: Person, id: string): Promise<void> {
    if (person === undefined || !(await deletePasskey(this.#across, person.userId, id))) {
      throw new NotFound('the passkey')
    }
  }

  /** What a device is asked so that its holder is signed in. Nobody is named: the device knows whose keys it has. @throws Conflict */
  async askWho(): Promise<PasskeyQuestion> {
    const options = await generateAuthenticationOptions({
      rpID: this.#site(),
      timeout: ANSWER_WITHIN_MS,
      userVerification: 'required',
    })
    return this.#question(options, null)
  }

  /** @returns cookies of a new session @throws Invalid, the same for a key that is not known and for one that does not fit */
  async signIn({ ceremony, answer }: PasskeySignIn, userAgent: string): Promise<string[]> {
    const expectedChallenge = await this.#spend(ceremony, null)
    const known = await findPasskey(this.#across, answer.id)
    if (known === undefined) throw notAccepted()
    const { authenticationInfo } = await verified<VerifiedAuthenticationResponse>(() =>
      verifyAuthenticationResponse({
        response: answer as AuthenticationResponseJSON,
        expectedChallenge,
        expectedOrigin: this.#origin(),
        expectedRPID: this.#site(),
        credential: { id: known.id, publicKey: bytesOf(known.publicKey), counter: known.counter },
      }),
    )
    await notePasskeyUsed(this.#across, known.id, authenticationInfo.newCounter, this.#with.now())
    return this.#with.signIn.cookiesOf(known.email, userAgent)
  }

  async #question(options: { challenge: string }, userId: string | null): Promise<PasskeyQuestion> {
    const now = this.#with.now()
    await deleteChallengesBefore(this.#across, now)
    const expiresAt = new Date(now.getTime() + ANSWER_WITHIN_MS)
    const ceremony = await insertChallenge(this.#across, { challenge: options.challenge, userId, expiresAt })
    return { ceremony, options: { ...options } }
  }

  async #spend(ceremony: string, userId: string | null): Promise<string> {
    const challenge = await spendChallenge(this.#across, ceremony, userId, this.#with.now())
    if (challenge !== undefined) return challenge
    throw new Invalid([{ pointer: '#/ceremony', detail: 'ceremony: it is over or was answered already: begin again' }])
  }

  #tell(person: SignedInPerson, { browser, system }: PasskeyRow): void {
    const { preferences, mail, publicUrl, onMailFailure } = this.#with
    const device = { browser, system }
    preferences
      .of(person)
      .then(({ language }) =>
        mail.send(passkeyLetter({ to: person.email, language: language ?? 'en' }, device, publicUrl)),
      )
      .catch(onMailFailure)
  }

  #origin(): string {
    return new URL(this.#with.publicUrl).origin
  }

  /** The name that keys are bound to. @throws Conflict where the service is reached by a number: the standard knows names alone */
  #site(): string {
    const { hostname } = new URL(this.#with.publicUrl)
    if (isIP(hostname.replace(/^\[|\]$/g, '')) === 0) return hostname
    throw new Conflict('passkeys need a service with a name: PUBLIC_URL has the number of a machine', 'no-name')
  }
}

/** The library throws at what does not fit: a sentence of ours takes its place. @throws Invalid */
async function verified<Result extends { readonly verified: boolean }>(check: () => Promise<Result>): Promise<Result> {
  const result = await check().catch(() => undefined)
  if (!result?.verified) throw notAccepted()
  return result
}

function notAccepted(): Invalid {
  return new Invalid([
    { pointer: '#/answer', detail: 'answer: this passkey is not accepted here', code: 'passkey-not-accepted' },
  ])
}

function bytesOf(text: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(Buffer.from(text, 'base64url'))
}

function viewOf({ id, browser, system, createdAt, lastUsedAt }: PasskeyRow): PasskeyView {
  const instant = (at: string) => new Date(at).toISOString()
  return { id, browser, system, createdAt: instant(createdAt), lastUsedAt: lastUsedAt && instant(lastUsedAt) }
}
