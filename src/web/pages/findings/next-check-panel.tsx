import type { Finding } from '../../api/findings.js'
import { Caution } from '../../shell/caution.js'
import { sayPercent } from '../../wording/amounts.js'
import { sayCause } from '../../wording/finding-words.js'
import { sayCheck, sayHow, sayOutcome, saySafety } from './check-words.js'
import { t } from './findings-words.js'

type NextCheck = NonNullable<Finding['nextCheck']>

/** The check that tells most: how to make it, and what each outcome would mean. */
export function NextCheckPanel({ check, causes }: { check: NextCheck | null; causes: Finding['causes'] }) {
  if (check === null) return <NoCheck />
  return (
    <section className="panel stack next-check" aria-labelledby="next-check">
      <div>
        <p className="label">{t('check.label')}</p>
        <h2 id="next-check">{sayCheck(check)}</h2>
        <p className="soft">{sayGain(check.expectedGain, causes)}</p>
      </div>
      {check.cautions.length > 0 && (
        <Caution grade="stop">
          <ul>
            {check.cautions.map((caution) => (
              <li key={caution}>{saySafety(caution)}</li>
            ))}
          </ul>
        </Caution>
      )}
      <ol className="how-to">
        {sayHow(check).map((step) => (
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
      <h2 id="next-check">{t('check.none')}</h2>
      <p>{t('check.noneText')}</p>
    </section>
  )
}

function Outcomes({ check }: { check: NextCheck }) {
  return (
    <table className="outcomes">
      <caption>{t('check.outcomes')}</caption>
      <thead>
        <tr>
          <th scope="col">{t('check.if')}</th>
          <th scope="col">{t('check.then')}</th>
        </tr>
      </thead>
      <tbody>
        {check.outcomes.map(({ outcome, text, probability, would }) => (
          <tr key={outcome}>
            <th scope="row">
              {sayOutcome(check.check, { outcome, text })}{' '}
              <small className="soft outcome-chance">{t('check.chance', { percent: sayPercent(probability) })}</small>
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
  if (!(doubt > 0)) return t('check.most')
  return t('check.gain', { percent: sayPercent(Math.min(1, expectedGain / doubt)) })
}
