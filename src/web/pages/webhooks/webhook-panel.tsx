import { useState } from 'react'
import type { WebhookView } from '../../../contract/webhooks.js'
import { useChangeWebhook, useDeleteWebhook, useRotateSecret, useSendTrial } from '../../api/webhooks.js'
import { sayInstant } from '../../wording/days.js'
import { ShownOnce } from '../settings/shown-once.js'
import { DeliveryLog } from './delivery-log.js'
import { sayEvent, useWebhookWords } from './webhook-words.js'

/** One program that is told: how it stands, what may be done, what was sent. */
export function WebhookPanel({ webhook }: { webhook: WebhookView }) {
  const t = useWebhookWords()
  const rotate = useRotateSecret()
  const { name, url, events } = webhook
  return (
    <section className="panel stack">
      <div className="webhook-head">
        <h2>{name}</h2>
        <span className={webhook.enabled ? 'tag webhook-fine' : 'tag tag-slow'}>
          <span aria-hidden="true">{webhook.enabled ? '✓' : '–'}</span>
          {webhook.enabled ? t('on') : t('off')}
        </span>
      </div>
      <div className="stack-tight">
        <p className="webhook-url">
          <code>{url}</code>
        </p>
        <p className="soft">{events.map((event) => sayEvent(event, t)).join(', ')}</p>
        <Standing webhook={webhook} />
      </div>
      {rotate.isSuccess && (
        <ShownOnce
          secret={rotate.data.secret}
          text={t('once')}
          words={{ copy: t('copy'), copied: t('copied'), done: t('done') }}
          onDone={() => rotate.reset()}
        />
      )}
      <Steps webhook={webhook} rotate={rotate} />
      <DeliveryLog webhook={webhook} />
    </section>
  )
}

function Standing({ webhook }: { webhook: WebhookView }) {
  const t = useWebhookWords()
  const { disabledBecause, failingSince, previousSecretUntil } = webhook
  const isOverlapping = previousSecretUntil !== null && previousSecretUntil > new Date().toISOString()
  return (
    <>
      {disabledBecause !== null && <p>{t(disabledBecause)}</p>}
      {failingSince !== null && <p className="field-wrong">{t('failing', { day: sayInstant(failingSince) })}</p>}
      {isOverlapping && <p className="soft">{t('overlap', { day: sayInstant(previousSecretUntil) })}</p>}
    </>
  )
}

function Steps({ webhook, rotate }: { webhook: WebhookView; rotate: ReturnType<typeof useRotateSecret> }) {
  const t = useWebhookWords()
  const change = useChangeWebhook()
  const trial = useSendTrial()
  const removal = useDeleteWebhook()
  const [isAsking, setIsAsking] = useState(false)
  const { id, name, enabled } = webhook
  const failed = change.error ?? trial.error ?? rotate.error ?? removal.error
  return (
    <>
      <p className="chips">
        {enabled && (
          <button type="button" className="button" disabled={trial.isPending} onClick={() => trial.mutate(id)}>
            {t('trial')}
          </button>
        )}
        <button
          type="button"
          className={enabled ? 'button' : 'button button-main'}
          disabled={change.isPending}
          onClick={() => change.mutate({ ...webhook, change: { enabled: !enabled } })}
        >
          {enabled ? t('switchOff') : t('switchOn')}
        </button>
        <button
          type="button"
          className="button"
          aria-label={t('rotateNamed', { name })}
          disabled={rotate.isPending}
          onClick={() => rotate.mutate(webhook)}
        >
          {t('rotate')}
        </button>
        <button
          type="button"
          className="button"
          aria-label={t('deleteNamed', { name })}
          onClick={() => setIsAsking(true)}
        >
          {t('delete')}
        </button>
      </p>
      {trial.isSuccess && (
        <p role="status" className="soft">
          {t('trialSent')}
        </p>
      )}
      {isAsking && (
        <div className="settings-sure stack-tight" role="alert">
          <p>{t('sure', { name })}</p>
          <p className="chips">
            <button
              type="button"
              className="button button-main"
              disabled={removal.isPending}
              onClick={() => removal.mutate(webhook)}
            >
              {t('yes')}
            </button>
            <button type="button" className="button" onClick={() => setIsAsking(false)}>
              {t('no')}
            </button>
          </p>
        </div>
      )}
      {failed && (
        <p className="field-wrong" role="alert">
          {failed.message}
        </p>
      )}
    </>
  )
}
