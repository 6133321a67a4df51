import type { Finding } from '../../api/findings.js'
import { sayPercent } from '../../wording/amounts.js'
import { causePlain, sayLikelihood } from '../../wording/finding-words.js'
import { within } from '../../wording/things.js'
import { sayCheck } from './check-words.js'
import { t } from './findings-words.js'

/** Less likely ones only worry an owner. Convention. */
const WORTH_NAMING = 0.1

/** What may lie behind it, for somebody who never held a meter. */
export function PlainCauses({ finding: { causes, confirmedCause, nextCheck, direction } }: { finding: Finding }) {
  const named = causes.filter(({ probability }) => probability >= WORTH_NAMING)
  return (
    <section className="panel stack what-it-may-be" aria-labelledby="plain-causes">
      <h2 id="plain-causes">{t('plain.title')}</h2>
      {confirmedCause !== null ? (
        <p>
          <strong>{causePlain(confirmedCause)}</strong> {t('plain.confirmed')}
        </p>
      ) : (
        <ul className="plain-causes">
          {named.map(({ cause, probability }) => (
            <li key={cause}>
              <strong>{causePlain(cause)}</strong>{' '}
              <span className="soft">
                {sayLikelihood(probability)}, {sayPercent(probability)}
              </span>
            </li>
          ))}
        </ul>
      )}
      {direction === 'slow' && <p>{t('plain.slow')}</p>}
      {nextCheck && <p className="soft">{t('plain.ask', { check: within(sayCheck(nextCheck)) })}</p>}
    </section>
  )
}
