import type { Finding } from '../../api/findings.js'
import { Caution } from '../../shell/caution.js'
import { sayPercent } from '../../wording/amounts.js'
import { sayCause } from '../../wording/finding-words.js'

type NextCheck = NonNullable<Finding['nextCheck']>

/** The check that tells most: how to make it, and what each outcome would mean. */
export function NextCheckPanel({ check, causes }: { check: NextCheck | null; causes: Finding['causes'] }) {
  if (check === null) return <NoCheck />
  return (
    <section className="panel stack next-check" aria-labelledby="next-check">
      <div>
        <p className="label">Next check</p>
        <h2 id="next-check">{check.title}</h2>
        <p className="soft">{sayGain(check.expectedGain, causes)}</p>
      </div>
      {check.cautions.length > 0 && (
        <Caution grade="stop">
          <ul>
            {check.cautions.map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        </Caution>
      )}
      <ol className="how-to">
        {check.how.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
      <Outcomes check={check} />
    </section>
  )
}

function NoCheck() {
  return (
    <section className="panel stack-tight next-check" aria-labelledby="next-check">
      <h2 id="next-check">No further check</h2>
      <p>
        None that a yard can make would tell much more. Look for what is likeliest, mend it, and say below what was
        done.
      </p>
    </section>
  )
}

function Outcomes({ check }: { check: NextCheck }) {
  return (
    <table className="outcomes">
      <caption>What each outcome would mean</caption>
      <thead>
        <tr>
          <th scope="col">If you find</th>
          <th scope="col">Then likeliest</th>
        </tr>
      </thead>
      <tbody>
        {check.outcomes.map(({ outcome, text, probability, would }) => (
          <tr key={outcome}>
            <th scope="row">
              {text} <small className="soft outcome-chance">expected {sayPercent(probability)} of the time</small>
            </th>
            <td>
              {would.slice(0, 2).map(({ cause, probability: after }, index) => (
                <span key={cause} className={index === 0 ? 'would would-first' : 'would soft small'}>
                  {sayCause(cause)} <span className="number">{sayPercent(after)}</span>
                </span>
              ))}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** What share of the doubt a check is expected to take: its gain against the entropy of the causes. */
export function sayGain(expectedGain: number, causes: Finding['causes']): string {
  const doubt = -causes.reduce((sum, { probability: p }) => (p > 0 ? sum + p * Math.log(p) : sum), 0)
  if (!(doubt > 0)) return 'Of the checks a yard can make it tells most.'
  return `Of the checks a yard can make it tells most: about ${sayPercent(Math.min(1, expectedGain / doubt))} of the doubt about the cause should be gone.`
}
