import { useTranslation } from 'react-i18next'
import english from '../../../messages/en/subscriptions.json' with { type: 'json' }
import { addEnglish } from '../../i18n/words.js'

addEnglish('subscriptions', english)

/** The words of what a person subscribes to: calendars, notifications. */
export function useSubscriptionWords() {
  return useTranslation('subscriptions').t
}
