import { useChangeReminders } from '../../api/notices.js'
import { useNoticeWords } from './notice-words.js'

/** The one switch: whether letters go out. */
export function SwitchPanel({ isOn, mayChange }: { isOn: boolean; mayChange: boolean }) {
  const t = useNoticeWords()
  const change = useChangeReminders()
  return (
    <section className="panel stack">
      <h2>{t('switch.heading')}</h2>
      <div className="notice-switch">
        <p role="status">
          <strong>{isOn ? `✓ ${t('switch.on')}` : `○ ${t('switch.off')}`}</strong>
        </p>
        {mayChange && (
          <button
            type="button"
            className={isOn ? 'button' : 'button button-main'}
            disabled={change.isPending}
            onClick={() => change.mutate({ enabled: !isOn })}
          >
            {isOn ? t('switch.turnOff') : t('switch.turnOn')}
          </button>
        )}
      </div>
      {!isOn && mayChange && <p className="soft">{t('switch.first')}</p>}
      {change.isError && (
        <p className="field-wrong" role="alert">
          {change.error.message}
        </p>
      )}
    </section>
  )
}
