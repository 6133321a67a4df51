import { Link } from 'react-router'
import type { Finding } from '../../api/findings.js'
import { sayPercent } from '../../wording/amounts.js'
import { sayCheck } from './check-words.js'
import {
  rateSpanOf,
  sayLikeliest,
  sayOnsetSpan,
  sayRate,
  sayRateSpan,
  saySince,
  saySubject,
  sayWhat,
  sayWhere,
} from './finding-sentences.js'
import { t } from './findings-words.js'
import { StateTag } from './state-tag.js'
import { DirectionTag, WearScale } from './wear-scale.js'

/** One finding: a card on a phone, a line on a desk. */
export function FindingRow({ finding, isOwner }: { finding: Finding; isOwner: boolean }) {
  return (
    <li className="finding-row">
      <What finding={finding} />
      <div className="finding-rate">
        <span className="label">{t('head.rate')}</span>
        <WearScale direction={finding.direction} span={rateSpanOf(finding)} />
        <span>
          <strong>{sayRate(finding)}</strong>
          <Span text={sayRateSpan(finding)} />
        </span>
      </div>
      <div className="finding-since">
        <span className="label">{t('head.since')}</span>
        <span>{saySince(finding)}</span>
        <Span text={sayOnsetSpan(finding)} />
      </div>
      <div className="finding-cause">
        <span className="label">{t('head.cause')}</span>
        <Likeliest finding={finding} />
      </div>
      {!isOwner && (
        <div className="finding-next">
          <span className="label">{t('head.next')}</span>
          <span>{finding.nextCheck ? sayCheck(finding.nextCheck) : t('row.noCheck')}</span>
        </div>
      )}
    </li>
  )
}

function What({ finding }: { finding: Finding }) {
  return (
    <div className="finding-what">
      <h2>
        <Link to={`/findings/${finding.id}`}>
          <strong>{saySubject(finding)}:</strong> {sayWhat(finding)}
        </Link>
      </h2>
      <p className="soft small">{sayWhere(finding)}</p>
      <p className="finding-tags">
        <StateTag state={finding.state} />
        <DirectionTag direction={finding.direction} />
        {finding.notSeenSince !== null && <span className="tag tag-state">{t('row.gone')}</span>}
      </p>
    </div>
  )
}

/** An interval that holds 8 of 10, in small print. */
function Span({ text }: { text: string | null }) {
  return text === null ? null : <small className="soft">{text}</small>
}

function Likeliest({ finding }: { finding: Finding }) {
  const likeliest = sayLikeliest(finding)
  if (likeliest === null) return <span>{t('row.notKnown')}</span>
  const probability = finding.confirmedCause === null ? finding.causes[0]?.probability : undefined
  return (
    <>
      <strong>{likeliest.cause}</strong>
      <small className="soft">
        {likeliest.how}
        {probability !== undefined && `, ${sayPercent(probability)}`}
      </small>
    </>
  )
}
