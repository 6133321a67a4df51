import { Link } from 'react-router'
import type { PlannedBerth } from '../../api/pontoons.js'
import { isUnsure, STEP_SYMBOLS, sayEffect, sayEffectSpan, stepOf } from './effect-scale.js'
import { FindingLinks } from './finding-links.js'
import { effectOf } from './planned-effect.js'
import { t } from './pontoon-words.js'

/** A berth of the plan: who lies there, what it does to anodes, what was found. */
export function BerthCell({ berth }: { berth: PlannedBerth }) {
  const effect = effectOf(berth)
  const look = effect === null ? 'unknown' : stepOf(effect)
  return (
    <section
      className={`berth berth-${look}${effect !== null && isUnsure(effect) ? ' berth-unsure' : ''}`}
      aria-label={t('berth', { name: berth.berth })}
    >
      <p className="berth-name">
        {berth.berth}
        {effect !== null && <span aria-hidden="true">{STEP_SYMBOLS[stepOf(effect)]}</span>}
      </p>
      <Boats boats={berth.boats} />
      {effect === null ? (
        <p className="berth-effect small">{t('noWeighings')}</p>
      ) : (
        <p className="berth-effect">
          <strong>{sayEffect(effect)}</strong>
          <span className="small berth-span">{sayEffectSpan(effect)}</span>
        </p>
      )}
      <FindingLinks findings={berth.findings} />
    </section>
  )
}

export function Boats({ boats }: Pick<PlannedBerth, 'boats'>) {
  if (boats.length === 0) return <p className="berth-free small">{t('free')}</p>
  return (
    <ul className="berth-boats">
      {boats.map((boat) => (
        <li key={boat}>
          <Link to={`/boats/${encodeURIComponent(boat)}`}>{boat}</Link>
        </li>
      ))}
    </ul>
  )
}
