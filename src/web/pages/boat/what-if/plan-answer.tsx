import type { WhatIfAnswer } from '../../../../contract/what-if.js'
import type { Forecast } from '../../../api/forecasts.js'
import type { PlannedAnode } from '../../../api/what-if.js'
import { sayPosition } from '../../../wording/things.js'
import type { DateAxis } from '../../fleet/date-axis.js'
import { DateBar, DateScale } from '../../fleet/date-bar.js'
import { ExpectedDate, RecommendedDate, sayLift } from '../../fleet/forecast-dates.js'
import { RiskBar } from '../../fleet/risk-bar.js'
import { t } from '../boat-words.js'
import { HaulOutRisks } from '../haul-out-risks.js'
import { byDueDate, planAxis, sayShift } from './plan-words.js'

/** Each anode's dates as things stand and as planned, side by side, on one calendar. */
export function PlanAnswer({ answer }: { answer: WhatIfAnswer }) {
  const axis = planAxis(answer.asOf, answer.anodes)
  return (
    <>
      <ul className="plan-anodes">
        {byDueDate(answer.anodes).map((anode) => (
          <li key={anode.anode}>
            <Comparison anode={anode} axis={axis} />
          </li>
        ))}
      </ul>
      <p className="soft small">{t('plan.key')}</p>
    </>
  )
}

function Comparison({ anode: { anode, position, now, planned }, axis }: { anode: PlannedAnode; axis: DateAxis }) {
  return (
    <>
      <h3>
        {anode} <span className="soft small">{sayPosition(position)}</span>{' '}
        <span className="plan-shift">{sayShift(now.replace.p50, planned.replace.p50, now.asOf)}</span>
      </h3>
      <div className="plan-bars" aria-hidden="true">
        <span />
        <DateScale axis={axis} asOf={now.asOf} />
        <span className="label">{t('plan.asItIs')}</span>
        <DateBar axis={axis} forecast={now} />
        <span className="label">{t('plan.planned')}</span>
        <DateBar axis={axis} forecast={planned} />
      </div>
      <table className="plan-table" aria-label={t('plan.table', { anode })}>
        <thead>
          <tr>
            <td />
            <th scope="col">{t('plan.asThingsStand')}</th>
            <th scope="col">{t('plan.asPlanned')}</th>
          </tr>
        </thead>
        <tbody>
          <Row name={t('plan.due')} cell={(forecast) => <ExpectedDate forecast={forecast} />} {...{ now, planned }} />
          <Row
            name={t('replaceBy')}
            cell={(forecast) => <RecommendedDate forecast={forecast} />}
            {...{ now, planned }}
          />
          <Row name={t('plan.risk')} cell={riskCell} {...{ now, planned }} />
        </tbody>
      </table>
    </>
  )
}

interface RowProps {
  name: string
  now: Forecast
  planned: Forecast
  cell: (forecast: Forecast) => React.ReactNode
}

function Row({ name, now, planned, cell }: RowProps) {
  return (
    <tr>
      <th scope="row">{name}</th>
      <td>{cell(now)}</td>
      <td>{cell(planned)}</td>
    </tr>
  )
}

function riskCell({ riskBeforeNextHaulOut, nextHaulOut, haulOutRisks, recommendedOn }: Forecast) {
  if (haulOutRisks.length > 1) return <HaulOutRisks risks={haulOutRisks} recommendedOn={recommendedOn} />
  return (
    <>
      <RiskBar risk={riskBeforeNextHaulOut} />
      <span className="soft small">{sayLift(nextHaulOut)}</span>
    </>
  )
}
