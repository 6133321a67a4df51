import type { DeliveryDetail, DeliveryView, WebhookView } from '../../contract/webhooks.js'
import type { AttemptValues, DeliveryRow } from '../../db/repositories/webhook-deliveries.js'
import type { WebhookRow } from '../../db/repositories/webhooks.js'

/** A webhook as it is shown: never with its secret. */
export function webhookView(row: WebhookRow): WebhookView {
  const { id, name, url, events, enabled, disabledBecause, version } = row
  return {
    id,
    name,
    url,
    events,
    enabled,
    disabledBecause,
    failingSince: instant(row.failingSince),
    previousSecretUntil: instant(row.previousSecretUntil),
    createdAt: new Date(row.createdAt).toISOString(),
    version,
  }
}

export function deliveryView(row: DeliveryRow, last: AttemptValues | undefined): DeliveryView {
  const { id, eventId, event, state, attempts } = row
  return {
    id,
    eventId,
    event,
    occurredAt: new Date(row.occurredAt).toISOString(),
    state,
    attempts,
    nextAttemptAt: instant(row.nextAttemptAt),
    lastAttempt: last ? attemptView(last) : null,
  }
}

export function attemptView(attempt: AttemptValues): DeliveryDetail['history'][number] {
  const { durationMs, answered, answerStart, failure } = attempt
  return { at: new Date(attempt.at).toISOString(), durationMs, answered, answerStart, failure }
}

function instant(value: string | null): string | null {
  return value === null ? null : new Date(value).toISOString()
}
