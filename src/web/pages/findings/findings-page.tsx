import { Link, useSearchParams } from 'react-router'
import { type Finding, useFindings } from '../../api/findings.js'
import { useMe } from '../../api/session.js'
import { useAreas } from '../../i18n/areas-of-page.js'
import { Caution } from '../../shell/caution.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { changed, filterOf, inOrderOfWork, narrowFindings, pageOf, type StateChoice } from './finding-filter.js'
import { FindingFilters } from './finding-filters.js'
import { FindingRow } from './finding-row.js'
import { warnsOfCurrent } from './finding-safety.js'
import { t } from './findings-words.js'
import { Pages } from './pages.js'
import './findings.css'

/** What wears abnormally, what is to be done first on top. */
export default function FindingsPage() {
  useAreas('findings', 'checks', 'words')
  const [query] = useSearchParams()
  const { state } = filterOf(query)
  const findings = useFindings(state)
  const isOwner = useMe().data?.role === 'owner'
  return (
    <div className="page findings">
      <title>{`${t('title')} · Anode Ledger`}</title>
      <header className="findings-head">
        <div>
          <h1>{t('title')}</h1>
          <p className="soft">{t('lead')}</p>
        </div>
        {!isOwner && (
          <Link className="button" to="/pontoons">
            {t('plan')}
          </Link>
        )}
      </header>
      {findings.isPending && <Waiting />}
      {findings.isError && <Trouble error={findings.error} retry={findings.refetch} />}
      {findings.data && <FindingList findings={findings.data} isOwner={isOwner} />}
    </div>
  )
}

function FindingList({ findings, isOwner }: { findings: readonly Finding[]; isOwner: boolean }) {
  const [query, setQuery] = useSearchParams()
  const filter = filterOf(query)
  const narrowed = inOrderOfWork(narrowFindings(findings, filter))
  const { items, page, pages } = pageOf(narrowed, filter.page)
  return (
    <>
      <Danger findings={findings} />
      <FindingFilters
        filter={filter}
        findings={findings}
        change={(name, value) => setQuery((before) => changed(before, name, value), { replace: true })}
      />
      <p className="soft small" role="status">
        {narrowed.length === findings.length
          ? t('findings', { count: findings.length })
          : t('someOf', { count: findings.length, shown: narrowed.length })}
      </p>
      {items.length === 0 ? (
        <NoFindings
          state={filter.state}
          isNarrowed={findings.length > 0}
          clear={() => setQuery({}, { replace: true })}
        />
      ) : (
        <FindingRows findings={items} isOwner={isOwner} />
      )}
      <Pages page={page} pages={pages} query={query} />
    </>
  )
}

function FindingRows({ findings, isOwner }: { findings: readonly Finding[]; isOwner: boolean }) {
  return (
    <div className={isOwner ? 'finding-list finding-list-plain' : 'finding-list'}>
      <div className="finding-list-head label" aria-hidden="true">
        <span>{t('head.what')}</span>
        <span>{t('head.rate')}</span>
        <span>{t('head.since')}</span>
        <span>{t('head.cause')}</span>
        {!isOwner && <span>{t('head.next')}</span>}
      </div>
      <ol>
        {findings.map((finding) => (
          <FindingRow key={finding.id} finding={finding} isOwner={isOwner} />
        ))}
      </ol>
    </div>
  )
}

/** What must be read before anybody goes near; of what is settled nothing. */
function Danger({ findings }: { findings: readonly Finding[] }) {
  const unsettled = findings.filter(({ state }) => state !== 'resolved' && state !== 'closed')
  if (unsettled.some(warnsOfCurrent)) {
    return (
      <Caution grade="stop">
        <strong>{t('danger.leak')}</strong> {t('danger.leakText')}
      </Caution>
    )
  }
  if (unsettled.every(({ safety }) => safety.length === 0)) return null
  return (
    <Caution grade="stop">
      <strong>{t('danger.care')}</strong> {t('danger.careText')}
    </Caution>
  )
}

interface NoFindingsProps {
  state: StateChoice
  isNarrowed: boolean
  clear: () => void
}

function NoFindings({ state, isNarrowed, clear }: NoFindingsProps) {
  const isWhole = state === 'unsettled' && !isNarrowed
  return (
    <div className="panel stack">
      <h2>{isWhole ? t('none.title') : t('none.noMatch')}</h2>
      <p>{isWhole ? t('none.text') : t('none.noMatchText')}</p>
      {!isWhole && (
        <p>
          <button type="button" className="button" onClick={clear}>
            {t('none.showAll')}
          </button>
        </p>
      )}
    </div>
  )
}
