import { Link } from 'react-router'
import { useMe } from '../../api/session.js'
import { KeysPanel } from './keys-panel.js'
import { MembersPanel } from './members-panel.js'
import { usePeopleWords } from './people-words.js'
import './settings.css'

/** For administrators: who comes in with which role, people and programs. */
export default function PeoplePage() {
  const t = usePeopleWords()
  const me = useMe()
  const may = me.data?.permissions.includes('organisation:manage') ?? false
  return (
    <div className="page settings">
      <title>{`${t('title')} · Anode Ledger`}</title>
      <div>
        <Link to="/settings" className="back">
          ‹ {t('back')}
        </Link>
        <h1>{t('title')}</h1>
      </div>
      {may ? (
        <>
          <MembersPanel />
          <KeysPanel />
        </>
      ) : (
        <p className="panel">{t('notYours')}</p>
      )}
    </div>
  )
}
