import type { Db, Handles } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  type AttemptValues,
  type ClaimedDelivery,
  claimDeliveries,
  forgetEventsBefore,
  settleDelivery,
} from '../../db/repositories/webhook-deliveries.js'
import { noteWebhookFails, noteWebhookWorks, updateWebhook, type WebhookRow } from '../../db/repositories/webhooks.js'
import { NotReached, type SendOut } from '../../outside/web/send-out.js'
import { messageBody } from './message.js'
import { signatureHeaders } from './signature.js'

const SECOND_MS = 1_000
const MINUTE_MS = 60 * SECOND_MS
const HOUR_MS = 60 * MINUTE_MS
const DAY_MS = 24 * HOUR_MS

/** How long to wait after each failure; after the last there is no further try. Together 3.7 days: longer than a weekend. */
const WAITS_MS = [
  30 * SECOND_MS,
  2 * MINUTE_MS,
  10 * MINUTE_MS,
  HOUR_MS,
  4 * HOUR_MS,
  12 * HOUR_MS,
  DAY_MS,
  DAY_MS,
  DAY_MS,
]
/** An endpoint that took nothing for so long is switched off: longer than all tries of one event. */
const GIVE_UP_AFTER_MS = 5 * DAY_MS
/** Longer than any sending takes: then its sender counts as lost, and somebody else sends it. */
const LEASE_MS = MINUTE_MS
const AT_ONCE = 10
const LOG_KEPT_MS = 30 * DAY_MS
/** RFC 9110, 15.5.11: not there any more, and not coming back. */
const GONE = 410

interface Outcome {
  readonly attempt: AttemptValues
  readonly isDelivered: boolean
}

/** Sends what waits to the endpoints that listen. Several processes share the work: each delivery is one's at a time. */
export class WebhookDeliverer {
  readonly #db: Db
  readonly #across: Db
  readonly #sendOut: SendOut
  readonly #now: () => Date

  constructor({ db, across }: Handles, sendOut: SendOut, now: () => Date) {
    this.#db = db
    this.#across = across
    this.#sendOut = sendOut
    this.#now = now
  }

  /**
   * Sends what is due, a few at once.
   *
   * @returns how many were tried; 0 when there is nothing left to do for now
   */
  async deliverDue(): Promise<number> {
    const now = this.#now()
    const leaseUntil = new Date(now.getTime() + LEASE_MS)
    const claimed = await claimDeliveries(this.#across, { now, leaseUntil, most: AT_ONCE })
    const settled = await Promise.allSettled(claimed.map((delivery) => this.#deliver(delivery)))
    const failed = settled.find((each) => each.status === 'rejected')
    if (failed !== undefined) throw failed.reason
    return claimed.length
  }

  /** The log holds a month; what still waits stays longer. */
  forgetOld(): Promise<void> {
    return forgetEventsBefore(this.#across, new Date(this.#now().getTime() - LOG_KEPT_MS))
  }

  async #deliver(delivery: ClaimedDelivery): Promise<void> {
    const { attempt, isDelivered } = await this.#attempt(delivery)
    const { organisationId, webhook } = delivery
    await inOrganisation(this.#db, { organisationId, actor: 'webhooks' }, async (tx) => {
      await settleDelivery(tx, delivery, this.#afterwards(delivery, isDelivered), attempt)
      if (isDelivered) return noteWebhookWorks(tx, organisationId, webhook.id)
      await noteWebhookFails(tx, organisationId, webhook.id, this.#now())
      const because = this.#reasonToSwitchOff(webhook, attempt)
      if (because === undefined) return
      await updateWebhook(tx, organisationId, webhook.id, { enabled: false, disabledBecause: because })
    })
  }

  async #attempt({ webhook, ...event }: ClaimedDelivery): Promise<Outcome> {
    const startedAt = this.#now()
    const body = messageBody(event)
    const message = { id: event.eventId, timestamp: Math.floor(startedAt.getTime() / SECOND_MS), body }
    const headers = {
      ...signatureHeaders(message, this.#secretsOf(webhook)),
      'content-type': 'application/json',
      'user-agent': 'anode-ledger',
    }
    const clock = performance.now()
    const told = (rest: Pick<AttemptValues, 'answered' | 'answerStart' | 'failure'>): AttemptValues => ({
      at: startedAt.toISOString(),
      durationMs: Math.round(performance.now() - clock),
      ...rest,
    })
    try {
      const { status, start } = await this.#sendOut.post({ url: webhook.url, headers, body })
      const failure = failureOf(status)
      return { isDelivered: failure === null, attempt: told({ answered: status, answerStart: start, failure }) }
    } catch (error) {
      // Whatever it was, the delivery must not be lost with it.
      const failure = error instanceof NotReached ? error.message : 'it could not be sent'
      return { isDelivered: false, attempt: told({ answered: null, answerStart: null, failure }) }
    }
  }

  #secretsOf({ secret, previousSecret, previousSecretUntil }: WebhookRow): string[] {
    const isInOverlap = previousSecretUntil !== null && new Date(previousSecretUntil) > this.#now()
    return previousSecret !== null && isInOverlap ? [secret, previousSecret] : [secret]
  }

  #afterwards({ attempts }: ClaimedDelivery, isDelivered: boolean) {
    if (isDelivered) return { state: 'delivered' as const, nextAttemptAt: null }
    const wait = WAITS_MS[attempts - 1]
    if (wait === undefined) return { state: 'failed' as const, nextAttemptAt: null }
    return { state: 'waiting' as const, nextAttemptAt: new Date(this.#now().getTime() + wait).toISOString() }
  }

  #reasonToSwitchOff(
    { failingSince }: WebhookRow,
    { answered }: AttemptValues,
  ): 'gone' | 'failed-too-long' | undefined {
    if (answered === GONE) return 'gone'
    const since = failingSince === null ? undefined : new Date(failingSince).getTime()
    return since !== undefined && this.#now().getTime() - since > GIVE_UP_AFTER_MS ? 'failed-too-long' : undefined
  }
}

function failureOf(status: number): string | null {
  if (status >= 200 && status < 300) return null
  return status >= 300 && status < 400 ? `it answered ${status}; redirects are not followed` : `it answered ${status}`
}
