import { ECDH } from 'node:crypto'
import type { NewPushSubscription, PushContent } from '../../contract/push.js'
import type { Db } from '../../db/client.js'
import {
  deleteSubscription,
  deleteSubscriptionById,
  keptServiceKey,
  type PushSubscriptionRow,
  saveSubscription,
  subscriptionsOfAddress,
  subscriptionsOfUser,
} from '../../db/repositories/push-subscriptions.js'
import type { Language } from '../../messages/languages.js'
import { makePushKeys, type PushIdentity, pushRequest } from '../../outside/push/push-message.js'
import { NotReached, RefusedAddress, type SendOut } from '../../outside/web/send-out.js'
import { spokenIn } from '../../outside/words/spoken.js'
import { Conflict, Invalid } from '../errors.js'
import { found } from '../fleet/visible.js'

/** Who asks: undefined for a program, which has no browser. */
type Person = { readonly userId: string; readonly sessionId: string } | undefined

/** What became of a message, by browsers of the person. */
export interface PushOutcome {
  readonly sent: number
  /** Subscriptions that had ended; they are forgotten. */
  readonly ended: number
  /** Not taken for now: trying again later makes sense. */
  readonly failed: number
}

type Keys = Pick<PushIdentity, 'publicKey' | 'privateKey'>

export interface PushSettings {
  /** Without them a pair is made once and kept in the database. */
  readonly keys: Keys | undefined
  readonly subject: string
}

/** As many devices as one person may have. */
const MOST_BROWSERS = 20
const KEYS_NAME = 'push-keys'
/** RFC 8030, 7.3, and RFC 9110, 15.5.11: the subscription is over. */
const ENDED: readonly number[] = [404, 410]

/** Notifications on the devices of people who switched them on. */
export class PushService {
  readonly #across: Db
  readonly #sendOut: SendOut
  readonly #settings: PushSettings
  #identity: Promise<PushIdentity> | undefined

  constructor(across: Db, sendOut: SendOut, settings: PushSettings) {
    this.#across = across
    this.#sendOut = sendOut
    this.#settings = settings
  }

  /** What a browser needs in order to subscribe. */
  async publicKey(): Promise<string> {
    return (await this.#identified()).publicKey
  }

  /** @throws NotFound for a program, Invalid for an endpoint that may not be sent to, Conflict when there are too many */
  async subscribe(person: Person, { endpoint, keys }: NewPushSubscription): Promise<void> {
    const { userId, sessionId } = found(person, 'a person behind this key, whose browser it would be')
    await this.#refuseEndpoint(endpoint)
    if (!isPoint(keys.p256dh)) throw new Invalid([{ pointer: '#/keys/p256dh', detail: 'p256dh is no point of P-256' }])
    const known = await subscriptionsOfUser(this.#across, userId)
    if (known.length >= MOST_BROWSERS && !known.some((each) => each.endpoint === endpoint)) {
      throw new Conflict(`you are notified on ${MOST_BROWSERS} devices already: switch one off first`)
    }
    await saveSubscription(this.#across, { userId, sessionId, endpoint, ...keys })
  }

  /** One that is not there is as good as ended. @throws NotFound for a program */
  async unsubscribe(person: Person, endpoint: string): Promise<void> {
    const { userId } = found(person, 'a person behind this key')
    await deleteSubscription(this.#across, userId, endpoint)
  }

  /** Shows somebody on one device what a notification looks like. @throws NotFound */
  async sendTrial(person: Person, endpoint: string, language: Language): Promise<PushOutcome> {
    const { userId } = found(person, 'a person behind this key')
    const own = await subscriptionsOfUser(this.#across, userId)
    const one = found(
      own.find((each) => each.endpoint === endpoint),
      'a subscription of this browser',
    )
    const t = spokenIn(language, 'push')
    const content = { title: t('trial.title'), body: t('trial.text'), path: '/settings', tag: 'trial', lang: language }
    return this.#send([one], content)
  }

  /**
   * Brings a message to every device on which a person switched notifications on. Outside of any transaction: push services may take
   * seconds to answer.
   *
   * @param email the person's address; nobody by that address, or no device, is an outcome of zeros
   */
  async pushToPerson(email: string, content: PushContent): Promise<PushOutcome> {
    return this.#send(await subscriptionsOfAddress(this.#across, email), content)
  }

  async #send(targets: readonly PushSubscriptionRow[], content: PushContent): Promise<PushOutcome> {
    const outcomes = await Promise.all(targets.map((target) => this.#sendOne(target, content)))
    const count = (wanted: keyof PushOutcome) => outcomes.filter((outcome) => outcome === wanted).length
    return { sent: count('sent'), ended: count('ended'), failed: count('failed') }
  }

  async #sendOne(target: PushSubscriptionRow, content: PushContent): Promise<keyof PushOutcome> {
    try {
      const { status } = await this.#sendOut.post(pushRequest(target, content, await this.#identified()))
      if (status >= 200 && status < 300) return 'sent'
      if (!ENDED.includes(status)) return 'failed'
    } catch (error) {
      // An address that has become one within, too: no device answers there.
      if (error instanceof NotReached) return 'failed'
      throw error
    }
    await deleteSubscriptionById(this.#across, target.id)
    return 'ended'
  }

  #identified(): Promise<PushIdentity> {
    this.#identity ??= this.#findIdentity().catch((error: unknown) => {
      // The database may only be away: the next one who asks tries again.
      this.#identity = undefined
      throw error
    })
    return this.#identity
  }

  async #findIdentity(): Promise<PushIdentity> {
    const { keys, subject } = this.#settings
    return { ...(keys ?? ((await keptServiceKey(this.#across, KEYS_NAME, makePushKeys)) as Keys)), subject }
  }

  async #refuseEndpoint(endpoint: string): Promise<void> {
    try {
      await this.#sendOut.check(endpoint)
    } catch (error) {
      if (!(error instanceof RefusedAddress)) return
      throw new Invalid([{ pointer: '#/endpoint', detail: `endpoint: ${error.message}` }])
    }
  }
}

/** Nothing can be encrypted for what lies beside the curve. */
function isPoint(key: string): boolean {
  try {
    ECDH.convertKey(key, 'prime256v1', 'base64url')
    return true
  } catch {
    return false
  }
}
