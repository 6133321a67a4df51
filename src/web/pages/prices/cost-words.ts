import type { TFunction } from 'i18next'
import { useTranslation } from 'react-i18next'
import english from '../../../messages/en/costs.json' with { type: 'json' }
import { addEnglish } from '../../i18n/words.js'
import { currentLocale } from '../../wording/locale.js'

addEnglish('costs', english)

export type CostWords = TFunction<['costs', 'words']>

/** The words of prices and costs. */
export function useCostWords(): CostWords {
  return useTranslation(['costs', 'words']).t
}

/** @example sayMoney(38.5, 'EUR') // '€38.50' */
export function sayMoney(amount: number, currency: string): string {
  return new Intl.NumberFormat(currentLocale(), { style: 'currency', currency }).format(amount)
}
