import { SCOPES } from '../../../engine/diagnosis/anomaly.js'
import type { Finding } from '../../api/findings.js'
import { sayPercent } from '../../wording/amounts.js'
import { t } from './findings-words.js'

/** From here on the strip would be of one piece. Convention. */
const AS_GOOD_AS_ALL = 0.995

/** What part of the surprise the anode has for itself, and what it shares with its boat, its berth, its pontoon. */
export function SharesStrip({ shares }: { shares: Finding['shares'] }) {
  const [largest] = SCOPES.toSorted((a, b) => shares[b] - shares[a])
  return (
    <section className="panel stack shares" aria-labelledby="shares">
      <h2 id="shares">{t('shares')}</h2>
      {largest && <p>{shares[largest] >= AS_GOOD_AS_ALL ? t(`scope.${largest}.all`) : t(`scope.${largest}.most`)}</p>}
      <div className="shares-strip" aria-hidden="true">
        {SCOPES.filter((scope) => shares[scope] > 0).map((scope) => (
          <svg
            key={scope}
            aria-hidden="true"
            className={`share share-${scope}`}
            width={`${(shares[scope] * 100).toFixed(2)}%`}
            height="28"
          >
            <rect width="100%" height="28" />
            <rect width="100%" height="28" fill={`url(#share-${scope})`} />
          </svg>
        ))}
        <SharePatterns />
      </div>
      <SharesList shares={shares} />
    </section>
  )
}

function SharesList({ shares }: Pick<Finding, 'shares'>) {
  return (
    <dl className="shares-list">
      {SCOPES.map((scope) => (
        <div key={scope} className={`share-${scope}`}>
          <dt>
            <svg className={`share share-${scope}`} width="18" height="18" aria-hidden="true">
              <rect width="18" height="18" />
              <rect width="18" height="18" fill={`url(#share-${scope})`} />
            </svg>
            {t(`scope.${scope}.name`)}
          </dt>
          <dd>{sayPercent(shares[scope])}</dd>
        </div>
      ))}
    </dl>
  )
}

/** A pattern for each level, so that the strip can be read without its colours. */
function SharePatterns() {
  return (
    <svg width="0" height="0" aria-hidden="true">
      <defs>
        <pattern id="share-anode" width="100" height="100" patternUnits="userSpaceOnUse" />
        <pattern id="share-boat" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect width="2" height="7" className="share-line" />
        </pattern>
        <pattern id="share-berth" width="8" height="8" patternUnits="userSpaceOnUse">
          <circle cx="4" cy="4" r="1.7" className="share-line" />
        </pattern>
        <pattern id="share-pontoon" width="6" height="6" patternUnits="userSpaceOnUse">
          <rect width="6" height="2" className="share-line" />
        </pattern>
      </defs>
    </svg>
  )
}
