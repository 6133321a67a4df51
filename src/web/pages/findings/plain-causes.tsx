import type { Finding } from '../../api/findings.js'
import { sayPercent } from '../../wording/amounts.js'
import { causePlain, sayLikelihood } from '../../wording/finding-words.js'

/** Less likely ones only worry an owner. Convention. */
const WORTH_NAMING = 0.1

/** What may lie behind it, for somebody who never held a meter. */
export function PlainCauses({ finding: { causes, confirmedCause, nextCheck, direction } }: { finding: Finding }) {
  const named = causes.filter(({ probability }) => probability >= WORTH_NAMING)
  return (
    <section className="panel stack what-it-may-be" aria-labelledby="plain-causes">
      <h2 id="plain-causes">What it may be</h2>
      {confirmedCause !== null ? (
        <p>
          <strong>{causePlain(confirmedCause)}</strong> That is confirmed.
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
      {direction === 'slow' && <p>Until it is mended, the metal that the anode should protect may corrode.</p>}
      {nextCheck && <p className="soft">What would tell most: {lowerFirst(nextCheck.title)}. Ask the yard about it.</p>}
    </section>
  )
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1)
}
