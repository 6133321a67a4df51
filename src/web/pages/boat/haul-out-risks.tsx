import type { Forecast } from '../../api/forecasts.js'
import { sayDay } from '../../wording/days.js'
import { RiskBar } from '../fleet/risk-bar.js'
import './haul-out-risks.css'

/** Every planned haul-out with the risk that the anode is due by then; the one recommended is marked in words. */
export function HaulOutRisks({ forecast: { haulOutRisks, recommendedOn } }: { forecast: Forecast }) {
  return (
    <ol className="haul-out-risks">
      {haulOutRisks.map(({ on, risk }) => (
        <li key={on}>
          <span>
            {sayDay(on)}
            {on === recommendedOn && <small> replace here</small>}
          </span>
          <RiskBar risk={risk} />
        </li>
      ))}
    </ol>
  )
}
