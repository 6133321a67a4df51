import type { WhatIfAnswer } from '../../../../contract/what-if.js'
import type { Forecast } from '../../../api/forecasts.js'
import type { PlannedAnode } from '../../../api/what-if.js'
import type { DateAxis } from '../../fleet/date-axis.js'
import { DateBar, DateScale } from '../../fleet/date-bar.js'
import { ExpectedDate, RecommendedDate, sayLift } from '../../fleet/forecast-dates.js'
import { RiskBar } from '../../fleet/risk-bar.js'
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
      <p className="soft small">
        A bar spans the dates between which the threshold is reached 8 times in 10, its mark the middle; the arrow above
        is the next haul-out, the upright line today.
      </p>
    </>
  )
}

function Comparison({ anode: { anode, position, now, planned }, axis }: { anode: PlannedAnode; axis: DateAxis }) {
  return (
    <>
      <h3>
        {anode} <span className="soft small">{position}</span>{' '}
        <span className="plan-shift">{sayShift(now.replace.p50, planned.replace.p50, now.asOf)}</span>
      </h3>
      <div className="plan-bars" aria-hidden="true">
        <span />
        <DateScale axis={axis} asOf={now.asOf} />
        <span className="label">as it is</span>
        <DateBar axis={axis} forecast={now} />
        <span className="label">planned</span>
        <DateBar axis={axis} forecast={planned} />
      </div>
      <table className="plan-table" aria-label={`${anode}, as things stand and as planned`}>
        <thead>
          <tr>
            <td />
            <th scope="col">As things stand</th>
            <th scope="col">As planned</th>
          </tr>
        </thead>
        <tbody>
          <Row name="Due around" cell={(forecast) => <ExpectedDate forecast={forecast} />} {...{ now, planned }} />
          <Row name="Replace by" cell={(forecast) => <RecommendedDate forecast={forecast} />} {...{ now, planned }} />
          <Row name="Risk before haul-out" cell={riskCell} {...{ now, planned }} />
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
