import { useTranslation } from 'react-i18next'
import type { Why } from '../../../contract/notices.js'
import english from '../../../messages/en/notices.json' with { type: 'json' }
import { addEnglish } from '../../i18n/words.js'
import { dateFormat } from '../../wording/locale.js'

addEnglish('notices', english)

/** The words of letters to owners, as the app shows them. */
export function useNoticeWords() {
  return useTranslation('notices').t
}

type Words = ReturnType<typeof useNoticeWords>

/** @example sayDay('2031-04-18') // '18 Apr 2031' */
export function sayDay(day: string): string {
  const style = { day: 'numeric', month: 'short', year: 'numeric', timeZone: 'UTC' } as const
  return dateFormat(style).format(new Date(`${day}T00:00:00Z`))
}

/** @example sayInstant('2031-04-18T09:30:00Z') // '18 Apr, 09:30' */
export function sayInstant(at: string): string {
  return dateFormat({ day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' }).format(new Date(at))
}

/** Why somebody is written to, in a line. */
export function sayWhy({ anode, because, recommendedOn }: Why, t: Words): string {
  if (because === 'finding' || anode === null) return t('why.finding')
  if (recommendedOn === null) return t('why.movedFar', { anode })
  return t(`why.${because}`, { anode, day: sayDay(recommendedOn) })
}
