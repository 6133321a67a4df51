import { Link, useParams } from 'react-router'
import { type FindingDetail, useFinding } from '../../api/findings.js'
import { useMe } from '../../api/session.js'
import { useAreas } from '../../i18n/areas-of-page.js'
import { Caution } from '../../shell/caution.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { sayDay } from '../../wording/days.js'
import { sayRecordQuestion } from '../../wording/evidence-words.js'
import { sayCause } from '../../wording/finding-words.js'
import { CausesPanel } from './causes-panel.js'
import { saySafety } from './check-words.js'
import { FindingAnodes } from './finding-anodes.js'
import { FindingHistory } from './finding-history.js'
import {
  rateSpanOf,
  sayFinding,
  sayNoticed,
  sayOnsetSpan,
  sayRate,
  sayRateSpan,
  saySince,
} from './finding-sentences.js'
import { t } from './findings-words.js'
import { NextCheckPanel } from './next-check-panel.js'
import { PlainCauses } from './plain-causes.js'
import { RecordCheck } from './record-check.js'
import { SharesStrip } from './shares-strip.js'
import { StateTag } from './state-tag.js'
import { StepForms } from './step-forms.js'
import { DirectionTag, WearScale } from './wear-scale.js'
import '../boat/boat.css'
import './finding.css'

/** One finding: what wears abnormally, what may lie behind it, what to measure next, and what was done. */
export default function FindingPage() {
  useAreas('findings', 'evidence', 'checks', 'boat', 'words')
  const { finding: id = '' } = useParams()
  const finding = useFinding(id)
  const me = useMe()
  if (finding.isPending || me.isPending) return <Waiting />
  if (finding.isError) return <Trouble error={finding.error} retry={finding.refetch} />
  const isOwner = me.data?.role === 'owner'
  return (
    <div className="page finding" key={finding.data.id}>
      <title>{`${sayFinding(finding.data)} · Anode Ledger`}</title>
      <Headline finding={finding.data} />
      <Safety safety={finding.data.safety} />
      <Figures finding={finding.data} />
      <Questions finding={finding.data} />
      {isOwner ? <PlainBody finding={finding.data} /> : <WorkBody finding={finding.data} />}
    </div>
  )
}

/** For those who work on it. */
function WorkBody({ finding }: { finding: FindingDetail }) {
  const { state, nextCheck, causes } = finding
  const isSettled = state === 'resolved' || state === 'closed'
  return (
    <>
      <CausesPanel causes={causes} />
      <div className="finding-columns">
        <div className="finding-column">
          {!isSettled && <NextCheckPanel check={nextCheck} causes={causes} />}
          <FindingAnodes finding={finding} />
        </div>
        <div className="finding-column">
          {!isSettled && <RecordCheck finding={finding} />}
          <StepForms finding={finding} />
          <SharesStrip shares={finding.shares} />
          <FindingHistory events={finding.events} />
        </div>
      </div>
    </>
  )
}

/** For owners: plain words, nothing to operate. */
function PlainBody({ finding }: { finding: FindingDetail }) {
  return (
    <div className="finding-columns">
      <div className="finding-column">
        <FindingAnodes finding={finding} />
      </div>
      <div className="finding-column">
        <PlainCauses finding={finding} />
        <FindingHistory events={finding.events} />
      </div>
    </div>
  )
}

function Headline({ finding }: { finding: FindingDetail }) {
  const { state, direction, confirmedCause } = finding
  return (
    <header className="stack-tight">
      <Link className="back" to="/findings">
        {t('back')}
      </Link>
      <h1>{sayFinding(finding)}</h1>
      <p className="finding-tags">
        <StateTag state={state} />
        <DirectionTag direction={direction} />
        {confirmedCause !== null && (
          <span className="tag tag-state">{t('confirmedAs', { cause: sayCause(confirmedCause) })}</span>
        )}
      </p>
    </header>
  )
}

function Figures({ finding }: { finding: FindingDetail }) {
  const { boat, berth, pontoon, reopened, notSeenSince, openedOn } = finding
  return (
    <div className="stack-tight">
      <Rate finding={finding} />
      <dl className="facts">
        {boat !== null && (
          <Fact name={t('fact.boat')}>
            <Link className="fact-link" to={`/boats/${encodeURIComponent(boat)}`}>
              {boat}
            </Link>
          </Fact>
        )}
        <Fact name={t('fact.berth')}>{[berth, pontoon].filter(Boolean).join(', ') || t('fact.notKnown')}</Fact>
        <Fact name={t('head.since')}>
          {saySince(finding)}
          {sayOnsetSpan(finding) && (
            <small className="soft finding-since-span">{t('fact.within', { span: sayOnsetSpan(finding) })}</small>
          )}
        </Fact>
        <Fact name={t('fact.noticed')}>{sayNoticed(finding)}</Fact>
        <Fact name={t('fact.found')}>
          {sayDay(openedOn)}
          {reopened > 0 && `, ${t('fact.cameBack', { count: reopened })}`}
        </Fact>
      </dl>
      {notSeenSince !== null && <p>{t('fact.notSeen', { day: sayDay(notSeenSince) })}</p>}
    </div>
  )
}

function Rate({ finding }: { finding: FindingDetail }) {
  const span = rateSpanOf(finding)
  if (span === null) return null
  return (
    <p className="finding-head-rate">
      <WearScale direction={finding.direction} span={span} />
      <span>
        <strong>{sayRate(finding)}</strong>{' '}
        {sayRateSpan(finding) && <span className="soft">{t('fact.rateSpan', { span: sayRateSpan(finding) })}</span>}
      </span>
    </p>
  )
}

function Fact({ name, children }: { name: string; children: React.ReactNode }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  )
}

/** Before anything else: what can kill or sink. */
function Safety({ safety }: { safety: readonly string[] }) {
  if (safety.length === 0) return null
  return (
    <Caution grade="stop">
      <h2 className="caution-title">{t('safety')}</h2>
      <ul>
        {safety.map((text) => (
          <li key={text}>{saySafety(text)}</li>
        ))}
      </ul>
    </Caution>
  )
}

function Questions({ finding: { asked, questions } }: { finding: FindingDetail }) {
  if (asked.length === 0) return null
  const said = asked.map(({ boat, ...question }, at) => {
    const text = sayRecordQuestion({ ...question, question: questions[at] ?? question.code })
    return boat === null ? text : `${boat}: ${text}`
  })
  return (
    <Caution grade="mind">
      <h2 className="caution-title">{t('questions.title')}</h2>
      <ul>
        {said.map((question) => (
          <li key={question}>{question}</li>
        ))}
      </ul>
      <p className="small">{t('questions.text')}</p>
    </Caution>
  )
}
