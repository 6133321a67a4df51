import { useState } from 'react'
import type { DeliveryView, WebhookView } from '../../../contract/webhooks.js'
import { useDeliveries, useReplay } from '../../api/webhooks.js'
import { Trouble } from '../../shell/waiting.js'
import { sayInstant } from '../../wording/days.js'
import { sayEvent, useWebhookWords } from './webhook-words.js'

/** What was sent to an endpoint and what it answered, read when it is unfolded. */
export function DeliveryLog({ webhook }: { webhook: WebhookView }) {
  const t = useWebhookWords()
  const [isOpen, setIsOpen] = useState(false)
  const deliveries = useDeliveries(webhook.id, isOpen)
  const replay = useReplay(webhook.id)
  const rows = deliveries.data?.pages.flatMap(({ items }) => items)
  return (
    <details className="fold" onToggle={({ currentTarget }) => setIsOpen(currentTarget.open)}>
      <summary>{t('log')}</summary>
      <div className="stack">
        {deliveries.isError && <Trouble error={deliveries.error} retry={deliveries.refetch} />}
        {deliveries.isLoading && (
          <p className="waiting" role="status">
            {t('logLoading')}
          </p>
        )}
        {rows?.length === 0 && <p className="soft">{t('logNone')}</p>}
        <ul className="settings-list">
          {rows?.map((delivery) => (
            <DeliveryRow
              key={delivery.id}
              delivery={delivery}
              canReplay={webhook.enabled}
              isBusy={replay.isPending}
              onReplay={() => replay.mutate(delivery.id)}
            />
          ))}
        </ul>
        {replay.isError && (
          <p className="field-wrong" role="alert">
            {replay.error.message}
          </p>
        )}
        {deliveries.hasNextPage && (
          <p className="chips">
            <button
              type="button"
              className="button"
              disabled={deliveries.isFetchingNextPage}
              onClick={() => deliveries.fetchNextPage()}
            >
              {t('more')}
            </button>
          </p>
        )}
      </div>
    </details>
  )
}

const TAGS: Readonly<Record<DeliveryView['state'], readonly [className: string, sign: string]>> = {
  waiting: ['tag', '…'],
  delivered: ['tag webhook-fine', '✓'],
  failed: ['tag tag-fast', '!'],
}

interface DeliveryRowProps {
  delivery: DeliveryView
  canReplay: boolean
  isBusy: boolean
  onReplay: () => void
}

function DeliveryRow({ delivery, canReplay, isBusy, onReplay }: DeliveryRowProps) {
  const t = useWebhookWords()
  const { event, occurredAt, state, lastAttempt } = delivery
  const said = sayEvent(event, t)
  const [className, sign] = TAGS[state]
  const at = sayInstant(occurredAt)
  return (
    <li>
      <div className="settings-name">
        <strong>{said}</strong> <span className="soft">{at}</span>
        <p>
          <span className={className}>
            <span aria-hidden="true">{sign}</span>
            {t(`state.${state}`)}
          </span>
        </p>
        <p className="soft small">{useOutcome(delivery)}</p>
        {lastAttempt?.answerStart && lastAttempt.failure && (
          <p className="soft small">
            {t('answerStart')}: <code className="webhook-answer">{lastAttempt.answerStart}</code>
          </p>
        )}
      </div>
      {canReplay && (
        <button
          type="button"
          className="button"
          aria-label={t('replayNamed', { event: said, at })}
          disabled={isBusy}
          onClick={onReplay}
        >
          {t('replay')}
        </button>
      )}
    </li>
  )
}

/** How it went, in a line. */
function useOutcome({ attempts, nextAttemptAt, lastAttempt, state }: DeliveryView): string {
  const t = useWebhookWords()
  if (lastAttempt === null) return t('untried')
  const { answered, durationMs, failure } = lastAttempt
  const outcome =
    answered === null ? t('noAnswer', { failure: failure ?? '' }) : t('answered', { status: answered, ms: durationMs })
  const next = state === 'waiting' && nextAttemptAt !== null ? t('next', { at: sayInstant(nextAttemptAt) }) : ''
  return [outcome, t('tries', { count: Math.max(attempts, 1) }), next].filter(Boolean).join(', ')
}
