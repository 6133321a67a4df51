import type { WebhookEvent } from '../../contract/webhooks.js'
import type { Db } from '../../db/client.js'
import { insertEvent, isListenedFor } from '../../db/repositories/webhooks.js'

/** What happened, and what of it is told. */
export interface EmittedEvent {
  readonly event: WebhookEvent
  /** JSON, named as in the REST API. */
  readonly data: object
}

/**
 * Tells whoever listens, within the transaction in which it happened: what is rolled back is told to nobody, what is committed is
 * sent even if the process ends right after it. Where nobody listens nothing is written.
 */
export async function emitWebhookEvent(tx: Db, organisationId: string, { event, data }: EmittedEvent): Promise<void> {
  if (await isListenedFor(tx, organisationId, [event])) await insertEvent(tx, organisationId, { event, data })
}
