import { Link } from 'react-router'
import type { Finding } from '../../api/findings.js'
import { sayAlloy, sayPosition } from '../../wording/things.js'
import { AnodeGauge } from './anode-gauge.js'
import { BoatTags } from './boat-tags.js'
import type { DateAxis } from './date-axis.js'
import { DateBar } from './date-bar.js'
import type { FleetRow } from './fleet-rows.js'
import { t } from './fleet-words.js'
import { ExpectedDate, RecommendedDate, sayLift } from './forecast-dates.js'
import { RiskBar } from './risk-bar.js'

interface FleetRowProps {
  row: FleetRow
  axis: DateAxis
  findings: readonly Finding[]
}

/** One boat: what is due first, when, and what waiting for the next haul-out risks. A card on a phone, a line on a desk. */
export function FleetRowItem({ row, axis, findings }: FleetRowProps) {
  const next = row.anodes[0]
  return (
    <li className="fleet-row">
      <div className="fleet-boat">
        <h2>
          <Link to={`/boats/${encodeURIComponent(row.boat)}`}>{row.boat}</Link>
        </h2>
        <p className="soft small">{sayPlace(row)}</p>
        <BoatTags wear={row.wear} findings={findings} />
      </div>
      <div className="fleet-anode">
        <AnodeGauge consumed={next.consumedNow} threshold={next.threshold} />
        <p>
          <strong className="fleet-position">{sayPosition(next.position)}</strong>
          <span className="soft small">
            {[sayAlloy(next.alloy), row.anodes.length > 1 ? t('firstOf', { count: row.anodes.length }) : null]
              .filter(Boolean)
              .join(', ')}
          </span>
        </p>
      </div>
      <div className="fleet-recommended">
        <span className="label">{t('replaceBy')}</span>
        <RecommendedDate forecast={next} />
      </div>
      <div className="fleet-dates">
        <DateBar axis={axis} forecast={next} />
        <p className="small">
          <ExpectedDate forecast={next} />
        </p>
      </div>
      <div className="fleet-risk">
        <Risk row={row} />
      </div>
    </li>
  )
}

function Risk({ row }: { row: FleetRow }) {
  const worst = row.riskiest
  if (worst === null || worst.riskBeforeNextHaulOut === null) {
    return <p className="soft small">{t('noHaulOut')}</p>
  }
  const which = worst.anode === row.anodes[0].anode ? '' : `, ${sayPosition(worst.position)}`
  return (
    <>
      <span className="label">{t('risk')}</span>
      <RiskBar risk={worst.riskBeforeNextHaulOut} />
      <span className="soft small">
        {worst.nextHaulOut ? sayLift(worst.nextHaulOut) : t('next')}
        {which}
      </span>
    </>
  )
}

function sayPlace(row: FleetRow): string {
  if (row.berth === null) return t('noBerth')
  return [t('berth', { berth: row.berth }), row.pontoon].filter(Boolean).join(', ')
}
