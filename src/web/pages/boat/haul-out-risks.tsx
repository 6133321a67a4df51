import type { Forecast } from '../../api/forecasts.js'
import { sayDay } from '../../wording/days.js'
import { RiskBar } from '../fleet/risk-bar.js'
import { t } from './boat-words.js'
import './haul-out-risks.css'

interface HaulOutRisksProps {
  risks: Forecast['haulOutRisks']
  recommendedOn: string | null
}

/** Planned haul-outs with the risk that the anode is due by then; the one recommended is marked in words. */
export function HaulOutRisks({ risks, recommendedOn }: HaulOutRisksProps) {
  return (
    <ol className="haul-out-risks">
      {risks.map(({ on, risk }) => (
        <li key={on}>
          <span>
            {sayDay(on)}
            {on === recommendedOn && <small> {t('replaceHere')}</small>}
          </span>
          <RiskBar risk={risk} />
        </li>
      ))}
    </ol>
  )
}
