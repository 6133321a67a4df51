import { lazy, Suspense, useMemo } from 'react'
import type { ModelView } from '../../../contract/model.js'
import { seasonCurve } from '../../../engine/rates/season-curve.js'
import { count } from '../../wording/days.js'
import { capital } from '../../wording/things.js'
import { errorLines, SPREAD_WORDS, sayEvidence, sayExponent, sayLaws, saySeason, saySpread } from './model-words.js'

const SeasonPlot = lazy(() => import('./season-plot.js'))

/** What the fit has learned of this fleet, each with what it means. */
export function Learned({ model }: { model: ModelView }) {
  return (
    <section className="stack" aria-labelledby="learned">
      <h2 id="learned">What was learned here</h2>
      <div className="model-pair">
        <Season model={model} />
        <Spreads variances={model.variances} />
        <Exponents exponents={model.exponents} />
        <Errors errors={model.observation.errors} />
      </div>
    </section>
  )
}

function Season({ model: { observation, seasonSe } }: { model: ModelView }) {
  const curve = useMemo(() => seasonCurve(observation.season, seasonSe), [observation, seasonSe])
  const sentence = saySeason(curve)
  return (
    <div className="panel stack-tight">
      <h3>Season</h3>
      <p>{sentence}</p>
      <Suspense fallback={<div className="plot plot-waiting" />}>
        <SeasonPlot curve={curve} label={`Rate over the year. ${sentence}`} />
      </Suspense>
      <p className="soft small">
        8 of 10 within the band. Where boats are weighed at one time of the year only, it is the usual season of the
        berths’ latitude.
      </p>
    </div>
  )
}

function Spreads({ variances }: { variances: ModelView['variances'] }) {
  return (
    <div className="panel stack-tight">
      <h3>How far rates lie apart</h3>
      <dl className="learned">
        {Object.entries(SPREAD_WORDS).flatMap(([term, { who, why }]) => {
          const variance = variances[term]
          if (variance === undefined) return []
          return (
            <div key={term}>
              <dt>{who}</dt>
              <dd>
                {saySpread(variance)}
                <small>{why}</small>
              </dd>
            </div>
          )
        })}
      </dl>
      <p className="soft small">
        Two in three lie within that of the usual rate. All but the last are learned with every weighing; the last
        stays, and is why a date has a width.
      </p>
    </div>
  )
}

function Exponents({ exponents }: { exponents: ModelView['exponents'] }) {
  return (
    <div className="panel stack-tight">
      <h3>How each shape wastes</h3>
      {exponents.length === 0 ? (
        <p>No anode was weighed three times yet: all shapes are taken to waste steadily to the end.</p>
      ) : (
        <table>
          <thead>
            <tr>
              <th scope="col">Shape</th>
              <th scope="col">Wear</th>
              <th scope="col">Evidence</th>
            </tr>
          </thead>
          <tbody>
            {exponents.map(({ shape, exponent, sd, anodes, evidence, laws }) => (
              <tr key={shape}>
                <th scope="row">{capital(shape)}</th>
                <td>
                  {sayExponent(exponent)}{' '}
                  <small>
                    q = {exponent.toFixed(2)}
                    {sd !== null && ` ± ${sd.toFixed(2)}`}
                  </small>
                </td>
                <td>
                  {sayEvidence(evidence)} <small>{[count(anodes, 'anode'), ...sayLaws(laws)].join(', ')}</small>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p className="soft small">
        Rate in proportion to the mass left to the power q: steady is 0, by surface two thirds, by mass 1. Evidence is
        against steady wear, from anodes weighed three times or more; the shares tell how likely each of the three is
        beside the others.
      </p>
    </div>
  )
}

function Errors({ errors }: { errors: ModelView['observation']['errors'] }) {
  return (
    <div className="panel stack-tight">
      <h3>How far weighings are off</h3>
      <dl className="learned">
        {errorLines(errors).map(({ what, how, isLearned }) => (
          <div key={what}>
            <dt>{what}</dt>
            <dd>
              {how}
              <small>
                {isLearned ? 'learned from this yard’s own pairs' : 'usual figure, no pairs to learn from yet'}
              </small>
            </dd>
          </div>
        ))}
      </dl>
      <p className="soft small">
        A pair is one anode judged in two ways on one day, such as before and after cleaning.
      </p>
    </div>
  )
}
