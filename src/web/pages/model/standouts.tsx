import { Link } from 'react-router'
import type { ModelView } from '../../../contract/model.js'
import { sayPercent, sayRatio } from '../../wording/amounts.js'
import { count, sayDay } from '../../wording/days.js'

/** More than that nobody reads; the others are in the service's answer. */
const MOST_SHOWN = 12

/** The losses that the fit hardly counts. */
export function Standouts({ model: { standouts, standoutCount, intervals } }: { model: ModelView }) {
  const shown = standouts.slice(0, MOST_SHOWN)
  return (
    <section className="panel stack" aria-labelledby="standouts">
      <h2 id="standouts">Losses that stand out</h2>
      <p>
        {standoutCount === 0
          ? `All ${count(intervals, 'interval')} agree with the rest well enough to count by more than half.`
          : `${count(standoutCount, 'interval')} of ${intervals.toLocaleString('en-GB')} ${standoutCount === 1 ? 'counts' : 'count'} for less than half, so that one fault or slip of the pen does not bend a boat or a berth. Look at them: a fault is worth finding.`}
      </p>
      {shown.length > 0 && (
        <table className="standouts">
          <thead>
            <tr>
              <th scope="col">Boat, anode, weighed on</th>
              <th scope="col">Wasted at</th>
              <th scope="col">Counts</th>
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
      {standoutCount > shown.length && <p className="soft small">The {MOST_SHOWN} that count least are shown.</p>}
    </section>
  )
}
