import { Link } from 'react-router'
import { usePreferences } from '../../api/preferences.js'
import { useMe } from '../../api/session.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { CalendarPanel } from './calendar-panel.js'
import { DevicesPanel } from './devices-panel.js'
import { NotificationsPanel } from './notifications-panel.js'
import { PasskeysPanel } from './passkeys-panel.js'
import { ReadingPanel } from './reading-panel.js'
import { useSettingsWords } from './settings-words.js'
import './settings.css'

/** What a person may choose for themselves, and where they are signed in. */
export default function SettingsPage() {
  const t = useSettingsWords()
  const preferences = usePreferences()
  const me = useMe()
  if (preferences.isPending) return <Waiting />
  if (preferences.isError) return <Trouble error={preferences.error} retry={preferences.refetch} />
  const may = new Set(me.data?.permissions)
  return (
    <div className="page settings">
      <title>{`${t('title')} · Anode Ledger`}</title>
      <h1>{t('title')}</h1>
      <ReadingPanel chosen={preferences.data} />
      <CalendarPanel />
      <NotificationsPanel />
      <PasskeysPanel />
      <DevicesPanel />
      {(may.has('organisation:manage') || may.has('fleet:import')) && (
        <section className="panel stack">
          <h2>{t('links.heading')}</h2>
          <p className="chips">
            {may.has('organisation:manage') && (
              <Link className="button" to="/settings/people">
                {t('links.people')}
              </Link>
            )}
            {may.has('notices:read') && (
              <Link className="button" to="/settings/letters">
                {t('links.letters')}
              </Link>
            )}
            {may.has('prices:write') && (
              <Link className="button" to="/settings/prices">
                {t('links.prices')}
              </Link>
            )}
            {may.has('organisation:manage') && (
              <Link className="button" to="/settings/webhooks">
                {t('links.webhooks')}
              </Link>
            )}
            {may.has('status:read') && (
              <Link className="button" to="/settings/status">
                {t('links.status')}
              </Link>
            )}
            {may.has('organisation:manage') && (
              <a className="button" href="/v1/organisation/archive" download>
                {t('links.archive')}
              </a>
            )}
            {may.has('fleet:import') && (
              <Link className="button" to="/set-up/fleet">
                {t('links.fleet')}
              </Link>
            )}
          </p>
        </section>
      )}
    </div>
  )
}
