import { lazy, Suspense, useMemo } from 'react'
import type { ModelView } from '../../../contract/model.js'
import { currentLocale } from '../../wording/locale.js'
import { sayBias, sayCoverage, t } from './model-words.js'
import { reliabilityPoints } from './reliability-data.js'
import { ScoreTable } from './score-table.js'

const ReliabilityPlot = lazy(() => import('./reliability-plot.js'))

/** The interval that forecasts report first: from p10 to p90. */
const MAIN_LEVEL = 0.8

/** How past forecasts did when the anodes were weighed. */
export function TrackRecord({ calibration }: { calibration: ModelView['calibration'] }) {
  const points = useMemo(() => reliabilityPoints(calibration.reliability), [calibration])
  if (calibration.scored === 0) return <NothingJudged />
  const main = calibration.coverage.find(({ level }) => level === MAIN_LEVEL)
  const sentence = main ? sayCoverage(main, calibration.scored) : ''
  return (
    <section className="panel stack" aria-labelledby="judged">
      <h2 id="judged">{t('judged.heading')}</h2>
      <p className="model-sentence">
        {sentence} {sayBias(calibration)}
      </p>
      <p className="soft small">{sayOrigin(calibration)}</p>
      <div className="model-pair">
        <div className="stack-tight">
          <Suspense fallback={<div className="plot plot-waiting" />}>
            <ReliabilityPlot points={points} label={t('plot.promises', { sentence })} />
          </Suspense>
          <p className="soft small">{t('plot.dashed')}</p>
          <p className="soft small">{t('plot.columns')}</p>
        </div>
        <div className="stack">
          <ScoreTable caption={t('scores.byHorizon')} groups={calibration.byHorizon} />
          <ScoreTable caption={t('scores.byWater')} groups={calibration.byWater} />
          <ScoreTable caption={t('scores.byAlloy')} groups={calibration.byAlloy} />
        </div>
      </div>
    </section>
  )
}

/** Which forecasts were judged, and whether anybody has seen them on their day. */
function sayOrigin({ scored, weighings, hindsight }: ModelView['calibration']): string {
  const judged = t('origin.judged', {
    weighings: t('origin.weighings', { count: weighings }),
    forecasts: t('origin.forecasts', { count: scored }),
  })
  if (hindsight === 0) return judged
  const late =
    hindsight === scored ? t('origin.all') : t('origin.some', { count: hindsight.toLocaleString(currentLocale()) })
  return `${judged} ${late}`
}

function NothingJudged() {
  return (
    <section className="panel stack-tight" aria-labelledby="judged">
      <h2 id="judged">{t('judged.noneHeading')}</h2>
      <p>{t('judged.noneText')}</p>
    </section>
  )
}
