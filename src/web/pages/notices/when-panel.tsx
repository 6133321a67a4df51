import { type FormEvent, useId } from 'react'
import type { ReminderSettings } from '../../../contract/notices.js'
import { LANGUAGES, languageOf } from '../../../messages/languages.js'
import { useChangeReminders } from '../../api/notices.js'
import { LANGUAGE_NAMES } from '../settings/language-names.js'
import { useNoticeWords } from './notice-words.js'

const LAST_HOUR = 23
const SHORTEST_LEAD = 15
const LONGEST_LEAD = 365

/** Lead time, quiet hours, and how those are written to who have chosen nothing. */
export function WhenPanel({ settings }: { settings: ReminderSettings }) {
  const t = useNoticeWords()
  const change = useChangeReminders()
  const zones = useId()
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const form = new FormData(event.currentTarget)
    change.mutate({
      leadDays: Number(form.get('leadDays')),
      quietFrom: Number(form.get('quietFrom')),
      quietTo: Number(form.get('quietTo')),
      timeZone: String(form.get('timeZone')),
      language: languageOf([String(form.get('language'))]),
    })
  }
  return (
    <form className="panel stack" onSubmit={submit}>
      <h2>{t('when.heading')}</h2>
      <div className="notice-fields">
        <NumberField
          name="leadDays"
          label={t('when.lead')}
          value={settings.leadDays}
          from={SHORTEST_LEAD}
          to={LONGEST_LEAD}
        />
        <NumberField name="quietFrom" label={t('when.quietFrom')} value={settings.quietFrom} from={0} to={LAST_HOUR} />
        <NumberField name="quietTo" label={t('when.quietTo')} value={settings.quietTo} from={0} to={LAST_HOUR} />
        <label className="field">
          <span>{t('when.zone')}</span>
          <input name="timeZone" defaultValue={settings.timeZone} list={zones} required />
        </label>
        <datalist id={zones}>
          {Intl.supportedValuesOf('timeZone').map((zone) => (
            <option key={zone} value={zone} />
          ))}
        </datalist>
        <label className="field">
          <span>{t('when.language')}</span>
          <select name="language" defaultValue={settings.language}>
            {LANGUAGES.map((language) => (
              <option key={language} value={language} lang={language}>
                {LANGUAGE_NAMES[language]}
              </option>
            ))}
          </select>
        </label>
      </div>
      <p className="chips">
        <button type="submit" className="button button-main" disabled={change.isPending}>
          {t('when.save')}
        </button>
        <span role="status">{change.isSuccess && t('saved')}</span>
      </p>
      {change.isError && (
        <p className="field-wrong" role="alert">
          {change.error.message}
        </p>
      )}
    </form>
  )
}

interface NumberFieldProps {
  name: string
  label: string
  value: number
  from: number
  to: number
}

function NumberField({ name, label, value, from, to }: NumberFieldProps) {
  const t = useNoticeWords()
  const hint = useId()
  return (
    <label className="field">
      <span>{label}</span>
      <input
        name={name}
        type="number"
        inputMode="numeric"
        min={from}
        max={to}
        step={1}
        defaultValue={value}
        aria-describedby={hint}
        required
      />
      <span id={hint} className="field-hint">
        {t('when.wrong', { from, to })}
      </span>
    </label>
  )
}
