import { Link } from 'react-router'
import { useReferenceIndex } from '../../api/reference.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { useReferenceWords } from './reference-words.js'
import './reference.css'

/** All tables of published values that the service computes with. */
export default function ReferencePage() {
  const t = useReferenceWords()
  const index = useReferenceIndex()
  return (
    <div className="page">
      <title>{`${t('title')} · Anode Ledger`}</title>
      <header className="stack-tight">
        <Link className="back" to="/">
          ‹ {t('back')}
        </Link>
        <h1>{t('title')}</h1>
        <p className="soft reference-lead">{t('about')}</p>
      </header>
      {index.isPending && <Waiting />}
      {index.isError && <Trouble error={index.error} retry={index.refetch} />}
      {index.data && (
        <ul className="reference-list">
          {index.data.items.map(({ name, title, description, rows }) => (
            <li key={name} className="panel">
              <Link to={`/reference/${name}`} lang="en">
                {title}
              </Link>
              <p lang="en">{description}</p>
              <p className="soft small">{t('rows', { count: rows })}</p>
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}
