import { lazy, Suspense, useMemo } from 'react'
import { type Onset, plotData } from '../../../presentation/depletion-drawing.js'
import type { OccupiedPosition } from '../../../presentation/occupied-positions.js'
import type { Forecast } from '../../api/forecasts.js'
import { sayMass, sayPercent, sayRate, sayRateNumber } from '../../wording/amounts.js'
import { sayDay, sayDistance } from '../../wording/days.js'
import { sayAlloy, sayPosition, sayShape } from '../../wording/things.js'
import { AnodeGauge } from '../fleet/anode-gauge.js'
import { RiskBar } from '../fleet/risk-bar.js'
import { WearTag } from '../fleet/wear-tag.js'
import { t } from './boat-words.js'
import { sayBasis, sayForecast } from './forecast-words.js'
import { HaulOutRisks } from './haul-out-risks.js'
import { PlotKey } from './plot-key.js'
import { Weighings } from './weighings/weighings.js'

const DepletionPlot = lazy(() => import('./depletion-plot.js'))

interface AnodeSectionProps {
  position: OccupiedPosition
  asOf: string
  /** Since when it wears abnormally, if a finding says so. */
  onset: Onset | null
}

/** One anode in place: the sentence, the drawing, the figures, the weighings. */
export function AnodeSection({ position, asOf, onset }: AnodeSectionProps) {
  const { current, before } = position
  const { forecast } = current
  const data = useMemo(() => plotData(current, before, asOf, onset), [current, before, asOf, onset])
  const sentence = forecast ? sayForecast(forecast) : t('noForecast')
  const wear = forecast?.wear?.judgement
  return (
    <section className="panel anode" aria-label={current.anode}>
      <header className="anode-head">
        <div>
          <h2>{current.anode}</h2>
          <p className="soft">
            {[
              sayPosition(current.position),
              sayAlloy(current.alloy),
              sayShape(current.shape),
              current.fittedOn && t('fitted', { day: sayDay(current.fittedOn) }),
            ]
              .filter(Boolean)
              .join(', ')}
          </p>
        </div>
        {forecast && <AnodeGauge consumed={forecast.consumedNow} threshold={forecast.threshold} />}
        {(wear === 'fast' || wear === 'slow') && <WearTag direction={wear} />}
      </header>
      {forecast && <Figures forecast={forecast} />}
      {forecast && forecast.haulOutRisks.length > 1 && (
        <div>
          <h3 className="label">{t('laterHaulOuts')}</h3>
          <HaulOutRisks risks={forecast.haulOutRisks.slice(1)} recommendedOn={forecast.recommendedOn} />
        </div>
      )}
      <Suspense fallback={<div className="plot plot-waiting" />}>
        <DepletionPlot data={data} label={t('plotLabel', { anode: current.anode, sentence })} />
      </Suspense>
      <p className="anode-sentence">{sentence}</p>
      {forecast && <p className="soft small">{t('rests', { basis: sayBasis(forecast.basis) })}</p>}
      <PlotKey hasPredecessors={before.length > 0} hasOnset={onset !== null} />
      <Weighings anode={current.anode} weighings={current.weighings} />
    </section>
  )
}

function Figures({ forecast }: { forecast: Forecast }) {
  const { massNow, rate, recommendedOn, riskBeforeNextHaulOut: risk, nextHaulOut, asOf, consumedNow } = forecast
  return (
    <dl className="figures">
      <div className="figures-main">
        <dt>{t('replaceBy')}</dt>
        <dd>
          <strong>{sayRecommended(recommendedOn, asOf)}</strong>
          {recommendedOn !== null && recommendedOn > asOf && <small>{sayDistance(asOf, recommendedOn)}</small>}
        </dd>
      </div>
      {risk !== null && (
        <div>
          <dt>{nextHaulOut ? t('riskBefore', { day: sayDay(nextHaulOut.on) }) : t('riskBeforeNext')}</dt>
          <dd>
            <RiskBar risk={risk} />
            {nextHaulOut && <small>{t(nextHaulOut.planned ? 'planned' : 'usual')}</small>}
          </dd>
        </div>
      )}
      <div>
        <dt>{t('massToday')}</dt>
        <dd>
          <strong>{sayMass(massNow.p50)}</strong>
          <small>
            {t('massSpan', {
              from: sayMass(massNow.p10),
              to: sayMass(massNow.p90),
              consumed: sayPercent(consumedNow),
            })}
          </small>
        </dd>
      </div>
      <div>
        <dt>{t('loss')}</dt>
        <dd>
          <strong>{sayRate(rate.p50)}</strong>
          <small>{t('span', { from: sayRateNumber(rate.p10), to: sayRate(rate.p90) })}</small>
        </dd>
      </div>
    </dl>
  )
}

function sayRecommended(recommendedOn: string | null, asOf: string): string {
  if (recommendedOn === null) return t('noDate')
  return recommendedOn <= asOf ? t('now') : sayDay(recommendedOn)
}
