import { lazy, Suspense, useMemo } from 'react'
import type { ModelView } from '../../../contract/model.js'
import { count } from '../../wording/days.js'
import { sayBias, sayCoverage } from './model-words.js'
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
      <h2 id="judged">What was promised, what came</h2>
      <p className="model-sentence">
        {sentence} {sayBias(calibration)}
      </p>
      <p className="soft small">{sayOrigin(calibration)}</p>
      <div className="model-pair">
        <div className="stack-tight">
          <Suspense fallback={<div className="plot plot-waiting" />}>
            <ReliabilityPlot points={points} label={`Promises against what came. ${sentence}`} />
          </Suspense>
          <p className="soft small">
            On the dashed line a chance of 30 % came true 30 times in 100. Below it more was lost than promised, above
            it less. The bars are what the number of weighings leaves open.
          </p>
          <p className="soft small">
            Within 80 %: the share of the weighings that lay between p10 and p90, and where the true share lies nine
            times in ten. Days ahead: by how many days in the water the wear was ahead of the forecast (+) or behind it
            (−), the middle one. Error score: the mean distance between the forecast with all its doubt and what was
            weighed (continuous ranked probability score); smaller is better.
          </p>
        </div>
        <div className="stack">
          <ScoreTable caption="By the time from the forecast to the weighing" groups={calibration.byHorizon} />
          <ScoreTable caption="By water" groups={calibration.byWater} />
          <ScoreTable caption="By alloy" groups={calibration.byAlloy} />
        </div>
      </div>
    </section>
  )
}

/** Which forecasts were judged, and whether anybody has seen them on their day. */
function sayOrigin({ scored, weighings, hindsight }: ModelView['calibration']): string {
  const judged = `${count(weighings, 'weighing')} on a scale judged ${count(scored, 'forecast')}: for each, the ones issued about 45 days, 4½ months, 9 months and 18 months before it, as far as there are any.`
  if (hindsight === 0) return judged
  const share = hindsight === scored ? 'All of them were' : `${hindsight.toLocaleString('en-GB')} of them were`
  return `${judged} ${share} made in hindsight: worked out later for a past day, from what was known on that day alone.`
}

function NothingJudged() {
  return (
    <section className="panel stack-tight" aria-labelledby="judged">
      <h2 id="judged">No forecast has been judged yet</h2>
      <p>
        Every forecast is kept. When its anode is next weighed on a scale, what was found is set against what was
        promised, and the result stands here. Until then the widths of the dates rest on the model alone.
      </p>
    </section>
  )
}
