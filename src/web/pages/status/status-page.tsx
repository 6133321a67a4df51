import { useMe } from '../../api/session.js'
import { useStatus } from '../../api/status.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { SettingsPart } from '../settings/settings-part.js'
import { ForecastsPanel } from './forecasts-panel.js'
import { InstallationPanel } from './installation-panel.js'
import { QueuePanel } from './queue-panel.js'
import { useStatusWords } from './status-words.js'
import './status.css'

/** For administrators: how the service does. */
export default function StatusPage() {
  const t = useStatusWords()
  const me = useMe()
  const may = me.data?.permissions.includes('status:read') ?? false
  const words = { title: t('title'), back: t('back'), notYours: t('notYours'), about: t('about') }
  return (
    <SettingsPart words={words} may={may}>
      <Panels />
    </SettingsPart>
  )
}

function Panels() {
  const status = useStatus()
  if (status.isPending) return <Waiting />
  if (status.isError) return <Trouble error={status.error} retry={status.refetch} />
  const { lastFit, coverage, installation, ...queues } = status.data
  return (
    <>
      <QueuePanel {...queues} />
      <ForecastsPanel lastFit={lastFit} coverage={coverage} />
      <InstallationPanel installation={installation} />
    </>
  )
}
