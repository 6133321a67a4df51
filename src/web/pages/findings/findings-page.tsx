import { Link, useSearchParams } from 'react-router'
import { type Finding, useFindings } from '../../api/findings.js'
import { useMe } from '../../api/session.js'
import { Caution } from '../../shell/caution.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { count } from '../../wording/days.js'
import { changed, filterOf, inOrderOfWork, narrowFindings, pageOf, type StateChoice } from './finding-filter.js'
import { FindingFilters } from './finding-filters.js'
import { FindingRow } from './finding-row.js'
import { warnsOfCurrent } from './finding-safety.js'
import { Pages } from './pages.js'
import './findings.css'

/** What wears abnormally, what is to be done first on top. */
export default function FindingsPage() {
  const [query] = useSearchParams()
  const { state } = filterOf(query)
  const findings = useFindings(state)
  const isOwner = useMe().data?.role === 'owner'
  return (
    <div className="page findings">
      <title>Findings · Anode Ledger</title>
      <header className="findings-head">
        <div>
          <h1>Findings</h1>
          <p className="soft">Anodes that waste too fast, or not at all, beyond what chance explains.</p>
        </div>
        {!isOwner && (
          <Link className="button" to="/pontoons">
            Plan of the pontoons
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
          ? count(findings.length, 'finding')
          : `${narrowed.length} of ${count(findings.length, 'finding')}`}
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
        <span>What</span>
        <span>Against the rate expected</span>
        <span>Since</span>
        <span>Likeliest cause</span>
        {!isOwner && <span>Next check</span>}
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
        <strong>A leak of current may be behind some of these.</strong> While it is suspected nobody goes in the water
        near the boat: shore power off, call a qualified marine electrician. Read the caution of a finding first.
      </Caution>
    )
  }
  if (unsettled.every(({ safety }) => safety.length === 0)) return null
  return (
    <Caution grade="stop">
      <strong>Some of these call for care.</strong> Read the caution of a finding before anything else.
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
      <h2>{isWhole ? 'Nothing stands out so far' : 'No finding matches'}</h2>
      <p>
        {isWhole
          ? 'No loss or reading on record differs from the rest by more than chance. That is no survey: look at each anode at every haul-out.'
          : 'None of the findings is like that.'}
      </p>
      {!isWhole && (
        <p>
          <button type="button" className="button" onClick={clear}>
            Show all that is to be done
          </button>
        </p>
      )}
    </div>
  )
}
