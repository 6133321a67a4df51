import { lazy, Suspense, useMemo } from 'react'
import { STANDS_OUT_BELOW } from '../../../engine/forecast/standouts.js'
import { type Onset, plotData } from '../../../presentation/depletion-drawing.js'
import type { OccupiedPosition } from '../../../presentation/occupied-positions.js'
import { type DepletionWeighing, photoUrl } from '../../api/depletion.js'
import type { Forecast } from '../../api/forecasts.js'
import { sayMass, sayPercent, sayRate, sayRateNumber } from '../../wording/amounts.js'
import { sayDay, sayDistance } from '../../wording/days.js'
import { sayAlloy, sayConditions, sayMethod, sayPosition, sayShape } from '../../wording/things.js'
import { AnodeGauge } from '../fleet/anode-gauge.js'
import { RiskBar } from '../fleet/risk-bar.js'
import { WearTag } from '../fleet/wear-tag.js'
import { t } from './boat-words.js'
import { sayBasis, sayForecast, sayWeight } from './forecast-words.js'
import { HaulOutRisks } from './haul-out-risks.js'
import { PlotKey } from './plot-key.js'

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
      <Weighings weighings={current.weighings} />
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

function Weighings({ weighings }: { weighings: readonly DepletionWeighing[] }) {
  if (weighings.length === 0) return <p className="soft">{t('notWeighed')}</p>
  const newestFirst = weighings.toReversed()
  const photos = newestFirst.flatMap(({ photos, on }) => photos.map((id) => ({ id, on })))
  return (
    <>
      {photos.length > 0 && (
        <ul className="photos" aria-label={t('photos')}>
          {photos.map(({ id, on }) => (
            <li key={id}>
              <a href={photoUrl(id, 'full')}>
                <img
                  src={photoUrl(id, 'thumb')}
                  alt={t('seenOn', { day: sayDay(on) })}
                  loading="lazy"
                  width="96"
                  height="96"
                />
              </a>
            </li>
          ))}
        </ul>
      )}
      <details className="fold">
        <summary>{t('weighings', { count: weighings.length })}</summary>
        <table>
          <thead>
            <tr>
              <th scope="col">{t('date')}</th>
              <th scope="col">{t('grossMass')}</th>
              <th scope="col">{t('how')}</th>
              <th scope="col">{t('looks')}</th>
            </tr>
          </thead>
          <tbody>
            {newestFirst.map((weighing) => (
              <tr key={weighing.id}>
                <td>{sayDay(weighing.on)}</td>
                <td>
                  {sayMass(weighing.massG)} <span className="soft">± {sayMass(weighing.sdG)}</span>
                </td>
                <td>
                  {sayMethod(weighing.method)}
                  {sayWeight(weighing.weight) && <span className="soft small"> {sayWeight(weighing.weight)}</span>}
                </td>
                <td>
                  {sayConditions(weighing.conditions) || '–'}
                  <LittleWeight weight={weighing.weight} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </>
  )
}

/** Why a weighing far off the curve did not bend it. */
function LittleWeight({ weight }: { weight: number | null }) {
  if (weight === null || weight >= STANDS_OUT_BELOW) return null
  return <small className="little-weight">{t('standsOut', { share: sayPercent(weight) })}</small>
}
