import { type FormEvent, useId, useState } from 'react'
import { WEBHOOK_EVENTS, type WebhookEvent } from '../../../contract/webhooks.js'
import { useMakeWebhook } from '../../api/webhooks.js'
import { Chips } from '../haul-out/choices.js'
import { ShownOnce } from '../settings/shown-once.js'
import { sayEvent, useWebhookWords } from './webhook-words.js'

/** Another program to be told; its secret is shown once. */
export function NewWebhookForm() {
  const t = useWebhookWords()
  const id = useId()
  const make = useMakeWebhook()
  const [events, setEvents] = useState<WebhookEvent[]>(['haul-out.recorded', 'forecast.moved', 'finding.opened'])
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const form = new FormData(event.currentTarget)
    const text = (name: string) => String(form.get(name) ?? '').trim()
    make.mutate({ name: text('name'), url: text('url'), events })
  }
  const words = Object.fromEntries(WEBHOOK_EVENTS.map((each) => [each, sayEvent(each, t)]))
  return (
    <section className="panel stack">
      <div>
        <h2>{t('new.heading')}</h2>
        <p className="soft">{t('about')}</p>
      </div>
      {make.isSuccess ? (
        <ShownOnce
          secret={make.data.secret}
          text={t('once')}
          words={{ copy: t('copy'), copied: t('copied'), done: t('done') }}
          onDone={() => make.reset()}
        />
      ) : (
        <form className="stack" onSubmit={submit}>
          <div className="field">
            <label htmlFor={`${id}-name`}>{t('new.name')}</label>
            <input id={`${id}-name`} name="name" required maxLength={100} autoComplete="off" />
          </div>
          <div className="field">
            <label htmlFor={`${id}-url`}>{t('new.url')}</label>
            <input
              id={`${id}-url`}
              name="url"
              type="url"
              required
              maxLength={2000}
              autoComplete="off"
              spellCheck={false}
            />
          </div>
          <Chips
            label={t('new.events')}
            values={events}
            choices={WEBHOOK_EVENTS}
            words={words as Record<WebhookEvent, string>}
            onChange={setEvents}
          />
          <p className="chips">
            <button type="submit" className="button button-main" disabled={make.isPending || events.length === 0}>
              {t('new.make')}
            </button>
          </p>
          {make.isError && (
            <p className="field-wrong" role="alert">
              {make.error.message}
            </p>
          )}
        </form>
      )}
    </section>
  )
}
