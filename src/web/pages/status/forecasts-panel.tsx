import { Link } from 'react-router'
import type { StatusView } from '../../../contract/status.js'
import { sayPercent } from '../../wording/amounts.js'
import { sayCount, sayDuration, sayMoment, useStatusWords } from './status-words.js'

/** The last fit, and how the forecasts did when anodes were weighed. */
export function ForecastsPanel({ lastFit, coverage }: Pick<StatusView, 'lastFit' | 'coverage'>) {
  const t = useStatusWords()
  return (
    <section className="panel stack" aria-labelledby="forecasts">
      <h2 id="forecasts">{t('forecasts.heading')}</h2>
      {lastFit === null ? <p className="soft">{t('forecasts.noFit')}</p> : <LastFit fit={lastFit} />}
      {coverage === null ? <p className="soft">{t('forecasts.noneJudged')}</p> : <Coverage coverage={coverage} />}
      <p>
        <Link to="/model">{t('forecasts.more')}</Link>
      </p>
    </section>
  )
}

function LastFit({ fit }: { fit: NonNullable<StatusView['lastFit']> }) {
  const t = useStatusWords()
  return (
    <dl className="status-facts">
      <div>
        <dt>{t('forecasts.lastFit')}</dt>
        <dd>{sayMoment(fit.fittedAt)}</dd>
      </div>
      {fit.seconds !== null && (
        <div>
          <dt>{t('forecasts.took')}</dt>
          <dd>{sayDuration(fit.seconds)}</dd>
        </div>
      )}
      <div>
        <dt>{t('forecasts.rows')}</dt>
        <dd>{sayCount(fit.intervals)}</dd>
      </div>
      <div>
        <dt>{t('forecasts.of')}</dt>
        <dd>{t('forecasts.anodesAndBoats', { anodes: sayCount(fit.anodes), boats: sayCount(fit.boats) })}</dd>
      </div>
    </dl>
  )
}

function Coverage({
  coverage: { share, level, low, high, scored },
}: {
  coverage: NonNullable<StatusView['coverage']>
}) {
  const t = useStatusWords()
  return (
    <p>
      {t('forecasts.coverage', {
        count: scored,
        share: sayPercent(share ?? 0),
        level: sayPercent(level),
        low: sayPercent(low ?? 0),
        high: sayPercent(high ?? 1),
      })}
    </p>
  )
}
