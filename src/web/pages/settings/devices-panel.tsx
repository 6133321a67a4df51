import { useState } from 'react'
import type { SessionView } from '../../../contract/access.js'
import { useEndSession, useEndSessions, useSessions } from '../../api/sessions.js'
import { Trouble } from '../../shell/waiting.js'
import { sayDay } from './settings-days.js'
import { useSettingsWords } from './settings-words.js'

/** Where somebody is signed in, this device first, and the way out of each. */
export function DevicesPanel() {
  const t = useSettingsWords()
  const sessions = useSessions()
  const endSession = useEndSession()
  const endSessions = useEndSessions()
  const failed = endSession.error ?? endSessions.error
  if (sessions.isError) return <Trouble error={sessions.error} retry={sessions.refetch} />
  return (
    <section className="panel stack">
      <div>
        <h2>{t('devices.heading')}</h2>
        <p className="soft">{t('devices.hint')}</p>
      </div>
      {sessions.isPending && (
        <p className="waiting" role="status">
          {t('devices.loading')}
        </p>
      )}
      <ul className="settings-list">
        {sessions.data
          ?.toSorted((a, b) => Number(b.current) - Number(a.current))
          .map((session) => (
            <Device key={session.id} session={session} end={() => endSession.mutate(session.id)} />
          ))}
      </ul>
      {failed && (
        <p className="field-wrong" role="alert">
          {failed.message}
        </p>
      )}
      {sessions.data && (
        <WaysOut
          isAlone={sessions.data.length < 2}
          isBusy={endSessions.isPending}
          end={(which) => endSessions.mutate({ which })}
        />
      )}
    </section>
  )
}

function Device({ session, end }: { session: SessionView; end: () => void }) {
  const t = useSettingsWords()
  const name = t('devices.device', {
    browser: session.browser ?? t('devices.unknownBrowser'),
    system: session.system ?? t('devices.unknownSystem'),
  })
  return (
    <li>
      <div>
        <strong>{name}</strong> {session.current && <span className="tag">{t('devices.this')}</span>}
        <p className="soft small">
          {t('devices.lastUsed', { day: sayDay(session.lastUsedAt) })},{' '}
          {t('devices.signedIn', { day: sayDay(session.signedInAt) })}
        </p>
      </div>
      {!session.current && (
        <button type="button" className="button" aria-label={t('devices.endNamed', { device: name })} onClick={end}>
          {t('devices.end')}
        </button>
      )}
    </li>
  )
}

interface WaysOutProps {
  isAlone: boolean
  isBusy: boolean
  end: (which: 'all' | 'others') => void
}

function WaysOut({ isAlone, isBusy, end }: WaysOutProps) {
  const t = useSettingsWords()
  const [isAsking, setIsAsking] = useState(false)
  if (isAsking) {
    return (
      <div className="stack-tight" role="alert">
        <p>{t('devices.allSure')}</p>
        <p className="chips">
          <button type="button" className="button button-main" disabled={isBusy} onClick={() => end('all')}>
            {t('devices.yes')}
          </button>
          <button type="button" className="button" onClick={() => setIsAsking(false)}>
            {t('devices.no')}
          </button>
        </p>
      </div>
    )
  }
  return (
    <div className="stack-tight">
      {isAlone && <p className="soft">{t('devices.only')}</p>}
      <p className="chips">
        {!isAlone && (
          <button type="button" className="button" disabled={isBusy} onClick={() => end('others')}>
            {t('devices.others')}
          </button>
        )}
        <button type="button" className="button" disabled={isBusy} onClick={() => setIsAsking(true)}>
          {t('devices.all')}
        </button>
      </p>
    </div>
  )
}
