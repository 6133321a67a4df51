import { languageOf } from '../../../messages/languages.js'
import { usePreferences } from '../../api/preferences.js'
import { useNotificationsHere, useSwitchOff, useSwitchOn, useTrial } from '../../api/push.js'
import { Trouble } from '../../shell/waiting.js'
import { useSubscriptionWords } from './subscription-words.js'

/** Notifications of this browser: on, off, one on trial. */
export function NotificationsPanel() {
  const t = useSubscriptionWords()
  const here = useNotificationsHere()
  const switchOn = useSwitchOn()
  const switchOff = useSwitchOff()
  const failed = switchOn.error ?? switchOff.error
  if (here.isError) return <Trouble error={here.error} retry={here.refetch} />
  const state = here.data?.state
  return (
    <section className="panel stack">
      <div>
        <h2>{t('push.heading')}</h2>
        <p className="soft">{t('push.hint')}</p>
      </div>
      <p role="status">{state === undefined ? t('push.looking') : t(`push.${state}`)}</p>
      {state === 'off' && (
        <p className="chips">
          <button
            type="button"
            className="button button-main"
            disabled={switchOn.isPending}
            onClick={() => switchOn.mutate()}
          >
            {t('push.switchOn')}
          </button>
        </p>
      )}
      {state === 'on' && (
        <>
          <Trial endpoint={here.data?.endpoint ?? ''} />
          <p className="chips">
            <button type="button" className="button" disabled={switchOff.isPending} onClick={() => switchOff.mutate()}>
              {t('push.switchOff')}
            </button>
          </p>
        </>
      )}
      {failed && (
        <p className="field-wrong" role="alert">
          {failed.message}
        </p>
      )}
    </section>
  )
}

function Trial({ endpoint }: { endpoint: string }) {
  const t = useSubscriptionWords()
  const preferences = usePreferences()
  const trial = useTrial()
  const language = preferences.data?.language ?? languageOf(navigator.languages)
  return (
    <div className="stack-tight">
      <p className="chips">
        <button
          type="button"
          className="button"
          disabled={trial.isPending}
          onClick={() => trial.mutate({ endpoint, language })}
        >
          {t('push.trial')}
        </button>
      </p>
      {trial.isSuccess && (
        <p role="status" className="soft">
          {trial.data.sent > 0 ? t('push.sent') : t('push.notSent')}
        </p>
      )}
      {trial.isError && (
        <p className="field-wrong" role="alert">
          {trial.error.message}
        </p>
      )}
    </div>
  )
}
