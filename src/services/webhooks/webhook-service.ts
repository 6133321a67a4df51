import type { Page } from '../../contract/paging.js'
import {
  type DeliveryDetail,
  type DeliveryQuery,
  type DeliveryView,
  type NewWebhook,
  WEBHOOK_TRIAL,
  type WebhookChange,
  type WebhookQuery,
  type WebhookView,
  type WebhookWithSecret,
} from '../../contract/webhooks.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  attemptsAt,
  type DeliveryRow,
  deliveryOfEvent,
  findDelivery,
  lastAttemptsAt,
  pageOfDeliveries,
  resetDelivery,
} from '../../db/repositories/webhook-deliveries.js'
import {
  deleteWebhook,
  findWebhook,
  insertEvent,
  insertWebhook,
  lockWebhook,
  pageOfWebhooks,
  updateWebhook,
  type WebhookRow,
} from '../../db/repositories/webhooks.js'
import { RefusedAddress, type SendOut } from '../../outside/web/send-out.js'
import type { Actor } from '../actor.js'
import { Conflict, Invalid } from '../errors.js'
import { expectVersion } from '../fleet/expect-version.js'
import { found } from '../fleet/visible.js'
import { messageBody } from './message.js'
import { makeWebhookSecret } from './signature.js'
import { attemptView, deliveryView, webhookView } from './webhook-views.js'

/** After a rotation both secrets sign for a day: time to hand the new one over. */
const OVERLAP_MS = 24 * 60 * 60 * 1000

/** Addresses of other systems that are told what happens, and the log of what was told. */
export class WebhookService {
  readonly #db: Db
  readonly #sendOut: SendOut
  readonly #now: () => Date

  constructor(db: Db, sendOut: SendOut, now: () => Date) {
    this.#db = db
    this.#sendOut = sendOut
    this.#now = now
  }

  page(actor: Actor, query: WebhookQuery): Promise<Page<WebhookView>> {
    return inOrganisation(this.#db, actor, (tx) => pageOfWebhooks(tx, actor.organisationId, query, webhookView))
  }

  /** @throws NotFound */
  read(actor: Actor, id: string): Promise<WebhookView> {
    return inOrganisation(this.#db, actor, async (tx) => webhookView(await this.#existing(tx, actor, id)))
  }

  /** Its secret is in the answer and nowhere else. @throws Invalid */
  async create(actor: Actor, { name, url, events }: NewWebhook): Promise<WebhookWithSecret> {
    await this.#refuseAddress(url)
    const secret = makeWebhookSecret()
    const row = await inOrganisation(this.#db, actor, (tx) =>
      insertWebhook(tx, actor.organisationId, { name, url, events, secret }),
    )
    return { ...webhookView(row), secret }
  }

  /** @throws NotFound, Stale, Invalid */
  async change(actor: Actor, id: string, version: number, change: WebhookChange): Promise<WebhookView> {
    if (change.url !== undefined) await this.#refuseAddress(change.url)
    return inOrganisation(this.#db, actor, async (tx) => {
      expectVersion('the webhook', await lockWebhook(tx, actor.organisationId, id), version)
      await updateWebhook(tx, actor.organisationId, id, { ...change, ...switched(change.enabled) })
      return webhookView(await this.#existing(tx, actor, id))
    })
  }

  /** @throws NotFound, Stale */
  delete(actor: Actor, id: string, version: number): Promise<void> {
    return inOrganisation(this.#db, actor, async (tx) => {
      expectVersion('the webhook', await lockWebhook(tx, actor.organisationId, id), version)
      await deleteWebhook(tx, actor.organisationId, id)
    })
  }

  /** Makes a new secret; for a day the one before signs beside it. @throws NotFound, Stale */
  rotate(actor: Actor, id: string, version: number): Promise<WebhookWithSecret> {
    return inOrganisation(this.#db, actor, async (tx) => {
      expectVersion('the webhook', await lockWebhook(tx, actor.organisationId, id), version)
      const before = await this.#existing(tx, actor, id)
      const secret = makeWebhookSecret()
      const previousSecretUntil = new Date(this.#now().getTime() + OVERLAP_MS).toISOString()
      await updateWebhook(tx, actor.organisationId, id, { secret, previousSecret: before.secret, previousSecretUntil })
      return { ...webhookView(await this.#existing(tx, actor, id)), secret }
    })
  }

  /** Sends a message that says only that it is one, to see whether it arrives. @throws NotFound, Conflict while it is off */
  sendTrial(actor: Actor, id: string): Promise<DeliveryView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { enabled, name } = await this.#existing(tx, actor, id)
      if (!enabled) throw new Conflict('the webhook is switched off: switch it on first', 'switched-off')
      const event = { event: WEBHOOK_TRIAL, data: { webhook: name } }
      const eventId = await insertEvent(tx, actor.organisationId, event, id)
      const made = found(await deliveryOfEvent(tx, actor.organisationId, eventId), 'the delivery')
      return deliveryView(made, undefined)
    })
  }

  /** @throws NotFound */
  deliveries(actor: Actor, id: string, query: DeliveryQuery): Promise<Page<DeliveryView>> {
    const { organisationId } = actor
    return inOrganisation(this.#db, actor, async (tx) => {
      await this.#existing(tx, actor, id)
      const { items, nextCursor } = await pageOfDeliveries(tx, organisationId, id, query)
      const ids = items.map((delivery) => delivery.id)
      const last = await lastAttemptsAt(tx, organisationId, ids)
      return { items: items.map((delivery) => deliveryView(delivery, last.get(delivery.id))), nextCursor }
    })
  }

  /** @throws NotFound */
  delivery(actor: Actor, id: string, deliveryId: string): Promise<DeliveryDetail> {
    return inOrganisation(this.#db, actor, (tx) => this.#detail(tx, actor, id, deliveryId))
  }

  /** Sends an event again, whatever became of it: its id stays the same. @throws NotFound, Conflict while it is off */
  replay(actor: Actor, id: string, deliveryId: string): Promise<DeliveryDetail> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const { enabled } = await this.#existing(tx, actor, id)
      if (!enabled) throw new Conflict('the webhook is switched off: switch it on first', 'switched-off')
      const delivery = await this.#deliveryOf(tx, actor, id, deliveryId)
      await resetDelivery(tx, delivery, this.#now())
      return this.#detail(tx, actor, id, deliveryId)
    })
  }

  async #detail(db: Db, actor: Actor, id: string, deliveryId: string): Promise<DeliveryDetail> {
    const row = await this.#deliveryOf(db, actor, id, deliveryId)
    const history = await attemptsAt(db, actor.organisationId, [deliveryId])
    return { ...deliveryView(row, history.at(-1)), body: messageBody(row), history: history.map(attemptView) }
  }

  async #deliveryOf(db: Db, { organisationId }: Actor, webhookId: string, id: string): Promise<DeliveryRow> {
    return found(await findDelivery(db, { organisationId, id }, webhookId), 'the delivery')
  }

  async #existing(db: Db, { organisationId }: Actor, id: string): Promise<WebhookRow> {
    return found(await findWebhook(db, organisationId, id), 'the webhook')
  }

  /** A host that is not found may only be away: each delivery looks again. */
  async #refuseAddress(url: string): Promise<void> {
    try {
      await this.#sendOut.check(url)
    } catch (error) {
      if (error instanceof RefusedAddress) throw new Invalid([{ pointer: '#/url', detail: `url: ${error.message}` }])
    }
  }
}

/** Whoever switches it on gives it a new chance. */
function switched(enabled: boolean | undefined): Partial<Pick<WebhookRow, 'disabledBecause' | 'failingSince'>> {
  if (enabled === undefined) return {}
  return enabled ? { disabledBecause: null, failingSince: null } : { disabledBecause: 'person' }
}
