import { useTranslation } from 'react-i18next'
import english from '../../../messages/en/settings.json' with { type: 'json' }
import { addEnglish } from '../../i18n/words.js'

addEnglish('settings', english)

/** The words of the settings. */
export function useSettingsWords() {
  return useTranslation('settings').t
}
