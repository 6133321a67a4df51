import { Link } from 'react-router'
import type { Finding } from '../../api/findings.js'
import { count, sayDay } from '../../wording/days.js'
import { AnodeGauge } from './anode-gauge.js'
import { BoatTags } from './boat-tags.js'
import type { DateAxis } from './date-axis.js'
import { DateBar } from './date-bar.js'
import type { FleetRow } from './fleet-rows.js'
import { ExpectedDate, RecommendedDate } from './forecast-dates.js'
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
          <strong className="fleet-position">{next.position}</strong>
          <span className="soft small">
            {[next.alloy, row.anodes.length > 1 ? `first of ${count(row.anodes.length, 'anode')}` : null]
              .filter(Boolean)
              .join(', ')}
          </span>
        </p>
      </div>
      <div className="fleet-recommended">
        <span className="label">Replace by</span>
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
    return <p className="soft small">No haul-out known to wait for</p>
  }
  const which = worst.anode === row.anodes[0].anode ? '' : `, ${worst.position}`
  return (
    <>
      <span className="label">Risk before haul-out</span>
      <RiskBar risk={worst.riskBeforeNextHaulOut} />
      <span className="soft small">
        {worst.nextHaulOut
          ? `${worst.nextHaulOut.planned ? '' : 'about '}${sayDay(worst.nextHaulOut.on)}`
          : 'next haul-out'}
        {which}
      </span>
    </>
  )
}

function sayPlace(row: FleetRow): string {
  if (row.berth === null) return 'Berth not recorded'
  return row.pontoon === null ? `Berth ${row.berth}` : `Berth ${row.berth}, ${row.pontoon}`
}
