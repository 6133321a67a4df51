import { useTranslation } from 'react-i18next'
import { WEBHOOK_EVENTS, type WebhookEvent } from '../../../contract/webhooks.js'
import english from '../../../messages/en/webhooks.json' with { type: 'json' }
import { addEnglish } from '../../i18n/words.js'

addEnglish('webhooks', english)

const KEYS = {
  'haul-out.recorded': 'haulOutRecorded',
  'haul-out.changed': 'haulOutChanged',
  'haul-out.deleted': 'haulOutDeleted',
  'forecast.issued': 'forecastIssued',
  'forecast.moved': 'forecastMoved',
  'finding.opened': 'findingOpened',
  'finding.changed': 'findingChanged',
  'notice.sent': 'noticeSent',
} as const satisfies Record<WebhookEvent, string>

/** The words of webhooks. */
export function useWebhookWords() {
  return useTranslation('webhooks').t
}

/** An event in words; one of a newer service is said as it is. */
export function sayEvent(event: string, t: ReturnType<typeof useWebhookWords>): string {
  const known = WEBHOOK_EVENTS.find((each) => each === event)
  if (known === undefined) return event === 'trial' ? t('trialEvent') : event
  return t(`event.${KEYS[known]}`)
}
