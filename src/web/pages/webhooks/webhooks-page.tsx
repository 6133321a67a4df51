import { useMe } from '../../api/session.js'
import { useWebhooks } from '../../api/webhooks.js'
import { Trouble } from '../../shell/waiting.js'
import { SettingsPart } from '../settings/settings-part.js'
import { NewWebhookForm } from './new-webhook.js'
import { WebhookPanel } from './webhook-panel.js'
import { useWebhookWords } from './webhook-words.js'
import './webhooks.css'

/** For administrators: which programs are told what happens, and what was sent to them. */
export default function WebhooksPage() {
  const t = useWebhookWords()
  const me = useMe()
  const may = me.data?.permissions.includes('organisation:manage') ?? false
  return (
    <SettingsPart words={{ title: t('title'), back: t('back'), notYours: t('notYours') }} may={may}>
      <All />
    </SettingsPart>
  )
}

function All() {
  const t = useWebhookWords()
  const webhooks = useWebhooks()
  if (webhooks.isError) return <Trouble error={webhooks.error} retry={webhooks.refetch} />
  return (
    <>
      <NewWebhookForm />
      {webhooks.isPending && (
        <p className="waiting" role="status">
          {t('loading')}
        </p>
      )}
      {webhooks.data?.length === 0 && <p className="soft">{t('none')}</p>}
      {webhooks.data?.map((webhook) => (
        <WebhookPanel key={webhook.id} webhook={webhook} />
      ))}
    </>
  )
}
