import { useTranslation } from 'react-i18next'
import english from '../../../messages/en/people.json' with { type: 'json' }
import { addEnglish } from '../../i18n/words.js'
import { dateFormat } from '../../wording/locale.js'

addEnglish('people', english)

/** The words of people and keys. */
export function usePeopleWords() {
  return useTranslation('people').t
}

/** The day of an instant where the reader is. */
export function sayDayOf(at: string): string {
  return dateFormat({ day: 'numeric', month: 'short', year: 'numeric' }).format(new Date(at))
}
