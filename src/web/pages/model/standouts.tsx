import { Link } from 'react-router'
import type { ModelView } from '../../../contract/model.js'
import { sayPercent, sayRatio } from '../../wording/amounts.js'
import { sayDay } from '../../wording/days.js'
import { currentLocale } from '../../wording/locale.js'
import { t } from './model-words.js'

/** More than that nobody reads; the others are in the service's answer. */
const MOST_SHOWN = 12

/** The losses that the fit hardly counts. */
export function Standouts({ model: { standouts, standoutCount, intervals } }: { model: ModelView }) {
  const shown = standouts.slice(0, MOST_SHOWN)
  return (
    <section className="panel stack" aria-labelledby="standouts">
      <h2 id="standouts">{t('standouts.heading')}</h2>
      <p>
        {standoutCount === 0
          ? t('standouts.none', { count: intervals })
          : t('standouts.some', { count: standoutCount, of: intervals.toLocaleString(currentLocale()) })}
      </p>
      {shown.length > 0 && (
        <table className="standouts">
          <thead>
            <tr>
              <th scope="col">{t('standouts.which')}</th>
              <th scope="col">{t('standouts.rate')}</th>
              <th scope="col">{t('standouts.counts')}</th>
            </tr>
          </thead>
          <tbody>
            {shown.map(({ boat, anode, on, weight, logRate, expected }) => (
              <tr key={`${boat} ${anode} ${on}`}>
                <th scope="row">
                  <Link className="standout-boat" to={`/boats/${encodeURIComponent(boat)}`}>
                    {boat}
                  </Link>
                  <small>
                    {anode}, {sayDay(on)}
                  </small>
                </th>
                <td>{sayRatio(logRate - expected)}</td>
                <td>{sayPercent(weight)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {standoutCount > shown.length && <p className="soft small">{t('standouts.most', { count: MOST_SHOWN })}</p>}
    </section>
  )
}
