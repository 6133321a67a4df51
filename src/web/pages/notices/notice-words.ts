import { useTranslation } from 'react-i18next'
import type { Why } from '../../../contract/notices.js'
import english from '../../../messages/en/notices.json' with { type: 'json' }
import { addEnglish } from '../../i18n/words.js'
import { sayDay } from '../../wording/days.js'

addEnglish('notices', english)

/** The words of letters to owners, as the app shows them. */
export function useNoticeWords() {
  return useTranslation('notices').t
}

type Words = ReturnType<typeof useNoticeWords>

/** Why somebody is written to, in a line. */
export function sayWhy({ anode, because, recommendedOn }: Why, t: Words): string {
  if (because === 'finding' || anode === null) return t('why.finding')
  if (recommendedOn === null) return t('why.movedFar', { anode })
  return t(`why.${because}`, { anode, day: sayDay(recommendedOn) })
}
