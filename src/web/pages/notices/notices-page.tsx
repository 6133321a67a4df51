import { useReminders } from '../../api/notices.js'
import { useMe } from '../../api/session.js'
import { Trouble } from '../../shell/waiting.js'
import { SettingsPart } from '../settings/settings-part.js'
import { NoticeLog } from './notice-log.js'
import { useNoticeWords } from './notice-words.js'
import { PreviewPanel } from './preview-panel.js'
import { SwitchPanel } from './switch-panel.js'
import { WhenPanel } from './when-panel.js'
import './notices.css'

/** For administrators: when owners are written to, what would be sent, and what was, to whom and why. */
export default function NoticesPage() {
  const t = useNoticeWords()
  const me = useMe()
  const may = me.data?.permissions.includes('notices:read') ?? false
  const words = { title: t('title'), back: t('back'), notYours: t('notYours'), about: t('about') }
  return (
    <SettingsPart words={words} may={may}>
      <All mayChange={me.data?.permissions.includes('organisation:manage') ?? false} />
    </SettingsPart>
  )
}

function All({ mayChange }: { mayChange: boolean }) {
  const t = useNoticeWords()
  const reminders = useReminders()
  if (reminders.isError) return <Trouble error={reminders.error} retry={reminders.refetch} />
  if (reminders.isPending)
    return (
      <p className="waiting" role="status">
        {t('loading')}
      </p>
    )
  return (
    <>
      <SwitchPanel isOn={reminders.data.enabled} mayChange={mayChange} />
      <PreviewPanel />
      {mayChange && <WhenPanel settings={reminders.data} />}
      <NoticeLog mayRetry={mayChange} />
    </>
  )
}
