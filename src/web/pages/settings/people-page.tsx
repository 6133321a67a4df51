import { useMe } from '../../api/session.js'
import { KeysPanel } from './keys-panel.js'
import { MembersPanel } from './members-panel.js'
import { usePeopleWords } from './people-words.js'
import { PersonDataPanel } from './person-data-panel.js'
import { SettingsPart } from './settings-part.js'

/** For administrators: who comes in with which role, people and programs. */
export default function PeoplePage() {
  const t = usePeopleWords()
  const me = useMe()
  const may = me.data?.permissions.includes('organisation:manage') ?? false
  return (
    <SettingsPart words={{ title: t('title'), back: t('back'), notYours: t('notYours') }} may={may}>
      <MembersPanel />
      <KeysPanel />
      <PersonDataPanel />
    </SettingsPart>
  )
}
