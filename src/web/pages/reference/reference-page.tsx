import { Link } from 'react-router'
import { useReferenceIndex } from '../../api/reference.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { count } from '../../wording/days.js'
import './reference.css'

/** All tables of published values that the service computes with. */
export default function ReferencePage() {
  const index = useReferenceIndex()
  return (
    <div className="page">
      <title>Reference tables · Anode Ledger</title>
      <header className="stack-tight">
        <Link className="back" to="/">
          ‹ Fleet
        </Link>
        <h1>Reference tables</h1>
        <p className="soft reference-lead">
          Every published value that the figures here rest on, row by row with where it is from and how far it was read.
          Standards are under copyright: the bought edition wins over these tables.
        </p>
      </header>
      {index.isPending && <Waiting />}
      {index.isError && <Trouble error={index.error} retry={index.refetch} />}
      {index.data && (
        <ul className="reference-list">
          {index.data.items.map(({ name, title, description, rows }) => (
            <li key={name} className="panel">
              <Link to={`/reference/${name}`}>{title}</Link>
              <p>{description}</p>
              <p className="soft small">{count(rows, 'row')}</p>
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}
