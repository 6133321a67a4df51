import { useTranslation } from 'react-i18next'
import english from '../../../messages/en/set-up.json' with { type: 'json' }
import { addEnglish } from '../../i18n/words.js'

addEnglish('set-up', english)

/** The words of setting up a fleet. */
export function useSetUpWords() {
  return useTranslation('set-up').t
}
