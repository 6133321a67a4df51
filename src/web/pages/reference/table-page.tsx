import { Fragment } from 'react'
import { Link, useParams } from 'react-router'
import type { ReferenceTable } from '../../../contract/reference.js'
import { ServiceProblem } from '../../api/problem.js'
import { useReferenceTable } from '../../api/reference.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { useReferenceWords } from './reference-words.js'
import { type ShownRow, type ShownTable, shownTable } from './shown-table.js'
import { useIsWide } from './use-is-wide.js'
import './reference.css'

/** One table of published values: each row with its status and its sources, and the sources beneath. */
export default function TablePage() {
  const t = useReferenceWords()
  const { table: name = '' } = useParams()
  const table = useReferenceTable(name)
  return (
    <div className="page">
      <title>{`${table.data?.title ?? t('table')} · Anode Ledger`}</title>
      <header className="stack-tight">
        <Link className="back" to="/reference">
          ‹ {t('title')}
        </Link>
        {table.data ? <h1 lang="en">{table.data.title}</h1> : <h1>{t('table')}</h1>}
        {table.data && (
          <p className="soft reference-lead">
            <span lang="en">{table.data.description}</span> {t('rows', { count: table.data.rows })}.
          </p>
        )}
      </header>
      {table.isPending && <Waiting />}
      {table.isError && <Failure error={table.error} retry={table.refetch} />}
      {table.data && <Table table={table.data} />}
    </div>
  )
}

function Failure({ error, retry }: { error: Error; retry: () => unknown }) {
  const t = useReferenceWords()
  const isUnknown = error instanceof ServiceProblem && error.status === 404
  return isUnknown ? <p className="panel">{t('none')}</p> : <Trouble error={error} retry={retry} />
}

/** A table on wide screens, a list of its rows on narrow ones; the sources beneath. */
function Table({ table }: { table: ReferenceTable }) {
  const t = useReferenceWords()
  const shown = shownTable(table)
  const isWide = useIsWide()
  return (
    <>
      {isWide ? <WideTable {...shown} /> : <RowList {...shown} />}
      <section className="panel stack-tight" aria-labelledby="sources">
        <h2 id="sources">{t('sources')}</h2>
        <ol className="reference-sources" lang="en">
          {table.sources.map(({ key, title, read }) => (
            <li key={key} id={`source-${key}`}>
              {title} <span className="soft">({read})</span>
            </li>
          ))}
        </ol>
      </section>
    </>
  )
}

function WideTable({ columns, rows }: ShownTable) {
  return (
    <div className="panel reference-panel" lang="en">
      <table className="reference">
        <thead>
          <tr>
            {columns.map(({ key, label, unit }) => (
              <th key={key} scope="col">
                {label}
                {unit !== null && <small> {unit}</small>}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <Fragment key={row.id}>
              <tr>
                {columns.map(({ key }, at) => (
                  <td key={key}>{row.cells[at]}</td>
                ))}
              </tr>
              <tr className="reference-beneath">
                <td colSpan={columns.length}>
                  <SourceLine row={row} />
                </td>
              </tr>
            </Fragment>
          ))}
        </tbody>
      </table>
    </div>
  )
}

function RowList({ columns, rows }: ShownTable) {
  return (
    <ul className="reference-rows" lang="en">
      {rows.map((row) => (
        <li key={row.id} className="panel">
          <dl>
            {columns.map(({ key, label, unit }, at) =>
              row.cells[at] === '' ? null : (
                <div key={key}>
                  <dt>{unit === null ? label : `${label}, ${unit}`}</dt>
                  <dd>{row.cells[at]}</dd>
                </div>
              ),
            )}
          </dl>
          <SourceLine row={row} />
        </li>
      ))}
    </ul>
  )
}

/** How far a row can be trusted, and the numbers of its sources in the list beneath. */
function SourceLine({ row: { status, sources, note } }: { row: ShownRow }) {
  const t = useReferenceWords()
  return (
    <div className="reference-source">
      <strong>{status}</strong>{' '}
      {sources.map(({ key, place }) => (
        <a key={key} href={`#source-${key}`} aria-label={t('source', { place })}>
          [{place}]
        </a>
      ))}
      {note !== '' && <small> {note}</small>}
    </div>
  )
}
