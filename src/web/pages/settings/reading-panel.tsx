import { useId } from 'react'
import type { PreferencesChange, PreferencesView } from '../../../contract/preferences.js'
import { LANGUAGES } from '../../../messages/languages.js'
import { useChangePreferences } from '../../api/preferences.js'
import { sayMass } from '../../wording/amounts.js'
import { dateFormat } from '../../wording/locale.js'
import { Segments } from '../haul-out/choices.js'
import { LANGUAGE_NAMES } from './language-names.js'
import { useSettingsWords } from './settings-words.js'

/** An anode as it comes, to show what a choice does [g]. */
const EXAMPLE_G = 1250
const AS_DEVICE = 'device'

/** Language, units and time zone; each choice is kept as it is made. */
export function ReadingPanel({ chosen }: { chosen: PreferencesView }) {
  const t = useSettingsWords()
  const change = useChangePreferences()
  const choose = (body: PreferencesChange) => change.mutate(body)
  return (
    <section className="panel stack">
      <div>
        <h2>{t('reading.heading')}</h2>
        <p className="soft">{t('reading.hint')}</p>
      </div>
      <LanguageField chosen={chosen} choose={choose} />
      <div className="stack-tight">
        <Segments
          label={t('reading.mass')}
          value={chosen.massUnit ?? 'g'}
          choices={[
            ['g', t('reading.gAndKg')],
            ['kg', t('reading.kg')],
            ['oz', t('reading.oz')],
            ['lb', t('reading.lb')],
          ]}
          onChange={(massUnit) => choose({ massUnit })}
        />
        <p className="field-hint">{t('reading.massExample', { mass: sayMass(EXAMPLE_G) })}</p>
      </div>
      <Segments
        label={t('reading.temperature')}
        value={chosen.temperatureUnit ?? 'C'}
        choices={[
          ['C', t('reading.C')],
          ['F', t('reading.F')],
        ]}
        onChange={(temperatureUnit) => choose({ temperatureUnit })}
      />
      <TimeZoneField chosen={chosen} choose={choose} />
      <p className="settings-state" role="status">
        {change.isPending && t('saving')}
        {change.isSuccess && t('saved')}
      </p>
      {change.isError && (
        <div className="chips" role="alert">
          <p className="field-wrong">
            {t('failed')} {change.error.message}
          </p>
          <button type="button" className="button" onClick={() => change.mutate(change.variables)}>
            {t('tryAgain')}
          </button>
        </div>
      )}
    </section>
  )
}

interface FieldProps {
  chosen: PreferencesView
  choose: (body: PreferencesChange) => void
}

function LanguageField({ chosen, choose }: FieldProps) {
  const t = useSettingsWords()
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{t('reading.language')}</label>
      <select
        id={id}
        value={chosen.language ?? AS_DEVICE}
        onChange={({ target }) => choose({ language: LANGUAGES.find((language) => language === target.value) ?? null })}
      >
        <option value={AS_DEVICE}>{t('reading.asDevice')}</option>
        {LANGUAGES.map((language) => (
          <option key={language} value={language} lang={language}>
            {LANGUAGE_NAMES[language]}
          </option>
        ))}
      </select>
    </div>
  )
}

function TimeZoneField({ chosen, choose }: FieldProps) {
  const t = useSettingsWords()
  const id = useId()
  const zones = Intl.supportedValuesOf('timeZone')
  const own = chosen.timeZone
  const time = dateFormat({ hour: '2-digit', minute: '2-digit', ...(own !== null && { timeZone: own }) }).format()
  return (
    <div className="field">
      <label htmlFor={id}>{t('reading.timeZone')}</label>
      <select
        id={id}
        value={own ?? AS_DEVICE}
        aria-describedby={`${id}-hint`}
        onChange={({ target }) => choose({ timeZone: target.value === AS_DEVICE ? null : target.value })}
      >
        <option value={AS_DEVICE}>{t('reading.asDevice')}</option>
        {own !== null && !zones.includes(own) && <option>{own}</option>}
        {zones.map((zone) => (
          <option key={zone}>{zone}</option>
        ))}
      </select>
      <p className="field-hint" id={`${id}-hint`}>
        {t('reading.zoneExample', { time })}
      </p>
    </div>
  )
}
