import { lazy, Suspense, useMemo } from 'react'
import type { ModelView } from '../../../contract/model.js'
import { seasonCurve } from '../../../engine/rates/season-curve.js'
import { sayNumber } from '../../wording/locale.js'
import { capital, sayShape } from '../../wording/things.js'
import { errorLines, SPREADS, sayEvidence, sayExponent, sayLaws, saySeason, saySpread, t } from './model-words.js'

const SeasonPlot = lazy(() => import('./season-plot.js'))

/** What the fit has learned of this fleet, each with what it means. */
export function Learned({ model }: { model: ModelView }) {
  return (
    <section className="stack" aria-labelledby="learned">
      <h2 id="learned">{t('learned.heading')}</h2>
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
      <h3>{t('season.heading')}</h3>
      <p>{sentence}</p>
      <Suspense fallback={<div className="plot plot-waiting" />}>
        <SeasonPlot curve={curve} label={t('season.plot', { sentence })} />
      </Suspense>
      <p className="soft small">{t('season.note')}</p>
    </div>
  )
}

function Spreads({ variances }: { variances: ModelView['variances'] }) {
  return (
    <div className="panel stack-tight">
      <h3>{t('spread.heading')}</h3>
      <dl className="learned">
        {SPREADS.flatMap((term) => {
          const variance = variances[term]
          if (variance === undefined) return []
          return (
            <div key={term}>
              <dt>{t(`who.${term}`)}</dt>
              <dd>
                {saySpread(variance)}
                <small>{t(`whyApart.${term}`)}</small>
              </dd>
            </div>
          )
        })}
      </dl>
      <p className="soft small">{t('spread.note')}</p>
    </div>
  )
}

function Exponents({ exponents }: { exponents: ModelView['exponents'] }) {
  return (
    <div className="panel stack-tight">
      <h3>{t('shapes.heading')}</h3>
      {exponents.length === 0 ? (
        <p>{t('shapes.none')}</p>
      ) : (
        <table>
          <thead>
            <tr>
              <th scope="col">{t('shapes.shape')}</th>
              <th scope="col">{t('shapes.wear')}</th>
              <th scope="col">{t('shapes.evidence')}</th>
            </tr>
          </thead>
          <tbody>
            {exponents.map(({ shape, exponent, sd, anodes, evidence, laws }) => (
              <tr key={shape}>
                <th scope="row">{capital(sayShape(shape) ?? shape)}</th>
                <td>
                  {sayExponent(exponent)}{' '}
                  <small>
                    q = {sayNumber(exponent, 2)}
                    {sd !== null && ` ± ${sayNumber(sd, 2)}`}
                  </small>
                </td>
                <td>
                  {sayEvidence(evidence)} <small>{[t('anodes', { count: anodes }), ...sayLaws(laws)].join(', ')}</small>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p className="soft small">{t('shapes.note')}</p>
    </div>
  )
}

function Errors({ errors }: { errors: ModelView['observation']['errors'] }) {
  return (
    <div className="panel stack-tight">
      <h3>{t('errors.heading')}</h3>
      <dl className="learned">
        {errorLines(errors).map(({ what, how, isLearned }) => (
          <div key={what}>
            <dt>{what}</dt>
            <dd>
              {how}
              <small>{t(isLearned ? 'errors.own' : 'errors.usual')}</small>
            </dd>
          </div>
        ))}
      </dl>
      <p className="soft small">{t('errors.note')}</p>
    </div>
  )
}
