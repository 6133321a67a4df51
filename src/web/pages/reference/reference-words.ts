import type { TFunction } from 'i18next'
import { useTranslation } from 'react-i18next'
import english from '../../../messages/en/reference.json' with { type: 'json' }
import { addEnglish } from '../../i18n/words.js'

addEnglish('reference', english)

/** The words round the reference tables; what stands in them is in English, as their sources are. */
export function useReferenceWords(): TFunction<['reference']> {
  return useTranslation(['reference']).t
}
