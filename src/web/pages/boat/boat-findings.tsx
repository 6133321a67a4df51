import { Link } from 'react-router'
import type { OccupiedPosition } from '../../../presentation/occupied-positions.js'
import type { Finding } from '../../api/findings.js'
import { sayLikeliest, sayRate, saySince, saySubject, sayWhat } from '../findings/finding-sentences.js'
import { StateTag } from '../findings/state-tag.js'
import { DirectionTag } from '../findings/wear-scale.js'
import { t } from './boat-words.js'
import './boat-findings.css'

/** What of a boat's wear is not settled, each line a way to its finding. */
export function BoatFindings({ findings }: { findings: readonly Finding[] }) {
  if (findings.length === 0) return null
  return (
    <section className="boat-findings stack-tight" aria-label={t('findings')}>
      {findings.map((finding) => (
        <Link key={finding.id} className="boat-finding" to={`/findings/${finding.id}`}>
          <span className="boat-finding-what">
            {finding.scope === 'anode' || finding.scope === 'boat' ? '' : `${saySubject(finding)}: `}
            {sayWhat(finding)}
          </span>
          <span className="boat-finding-tags">
            <DirectionTag direction={finding.direction} />
            <StateTag state={finding.state} />
          </span>
          <span className="soft small">
            {[t('since', { when: saySince(finding) }), finding.logRatio && sayRate(finding), sayCauseOf(finding)]
              .filter(Boolean)
              .join(' · ')}
          </span>
        </Link>
      ))}
    </section>
  )
}

function sayCauseOf(finding: Finding): string | null {
  const likeliest = sayLikeliest(finding)
  return likeliest && `${likeliest.cause}, ${likeliest.how}`
}

/** When abnormal wear began at a position: of the finding that its anode, or one before it, shares in. */
export function onsetAt({ current, before }: OccupiedPosition, findings: readonly Finding[], boat: string) {
  const names = new Set([current, ...before].map(({ anode }) => anode))
  const finding = findings.find(({ anodes }) => anodes.some((each) => each.boat === boat && names.has(each.anode)))
  return finding?.onset ?? null
}
