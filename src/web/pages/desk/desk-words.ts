import type { TFunction } from 'i18next'
import { useTranslation } from 'react-i18next'
import english from '../../../messages/en/desk.json' with { type: 'json' }
import englishWords from '../../../messages/en/words.json' with { type: 'json' }
import { addEnglish } from '../../i18n/words.js'
import { sayDay } from '../../wording/days.js'
import { currentLocale, dateFormat } from '../../wording/locale.js'

addEnglish('desk', english)
addEnglish('words', englishWords)

export type DeskWords = TFunction<['desk', 'words']>

/** The words of the fleet desk. */
export function useDeskWords(): DeskWords {
  return useTranslation(['desk', 'words']).t
}

const PERCENT = { style: 'percent', maximumFractionDigits: 0 } as const

/** A share; neither end is ever certain. @example sayShare(0.374, t) // '37%', in German '37 %' */
export function sayShare(share: number, t: DeskWords): string {
  if (share > 0 && share < 0.01) return t('percent.under')
  if (share > 0.99 && share < 1) return t('percent.over')
  return share.toLocaleString(currentLocale(), PERCENT)
}

export function sayDayOrNever(day: string | null, t: DeskWords): string {
  return day === null ? t('never') : sayDay(day)
}

const MONTH = { month: 'short', year: 'numeric', timeZone: 'UTC' } as const

/** @example sayMonth('2031-04-01') // 'Apr 2031' */
export function sayMonth(day: string): string {
  return dateFormat(MONTH).format(Date.parse(day))
}

const INITIAL = { month: 'narrow', timeZone: 'UTC' } as const

/** @example sayInitial('2031-04-01') // 'A' */
export function sayInitial(day: string): string {
  return dateFormat(INITIAL).format(Date.parse(day))
}

/** A year's figures are as wide as so many months of a strip on a phone. */
const MONTHS_OF_A_YEARS_FIGURES = 3

/** The year, where it stands above a row of months: at each January, and at the first month where there is room before that. */
export function yearAt(months: readonly string[], index: number): string {
  const month = months[index] ?? ''
  const isJanuary = (day: string) => day.slice(5, 7) === '01'
  const hasRoom = index === 0 && !months.slice(1, MONTHS_OF_A_YEARS_FIGURES).some(isJanuary)
  return isJanuary(month) || hasRoom ? month.slice(0, 4) : ''
}

/** An alloy's name, in the middle of a sentence. */
export function sayAlloy(alloy: keyof typeof englishWords.alloy | null, t: DeskWords): string {
  return alloy === null ? t('parts.noAlloy') : t(`alloy.${alloy}`, { ns: 'words' })
}

type Kind = keyof typeof englishWords.position
const KINDS = Object.keys(englishWords.position) as Kind[]

/** Where an anode sits: its label begins with a kind of position, and what follows is the yard's own. */
export function sayPosition(label: string, t: DeskWords): string {
  const kind = KINDS.find((each) => label.toLowerCase().startsWith(each))
  return kind === undefined ? label : `${t(`position.${kind}`, { ns: 'words' })}${label.slice(kind.length)}`
}

/** How much faster or slower than the fleet. @example sayFactor(1.12, t) // '12% faster' */
export function sayFactor(factor: number, t: DeskWords): string {
  const percent = Math.abs(factor - 1).toLocaleString(currentLocale(), PERCENT)
  if (Math.abs(factor - 1) < 0.005) return t('compare.even')
  return factor > 1 ? t('compare.faster', { percent }) : t('compare.slower', { percent })
}

/** @example saySigned(0.88) // '−12%' */
export function saySigned(factor: number): string {
  return (factor - 1).toLocaleString(currentLocale(), { ...PERCENT, signDisplay: 'exceptZero' })
}
