import { Link } from 'react-router'
import type { PlannedFinding } from '../../api/pontoons.js'
import { DIRECTION_SYMBOLS, sayCause } from '../../wording/finding-words.js'
import { t } from '../findings/findings-words.js'
import { t as sayOfPlan } from './pontoon-words.js'
import '../findings/wear-scale.css'

/** What is not settled there, each a way to its finding. */
export function FindingLinks({ findings }: { findings: readonly PlannedFinding[] }) {
  if (findings.length === 0) return null
  return (
    <ul className="berth-findings">
      {findings.map(({ id, direction, cause }) => (
        <li key={id}>
          <Link className={`berth-finding tag tag-${direction}`} to={`/findings/${id}`}>
            <span aria-hidden="true" className="finding-sign">
              {DIRECTION_SYMBOLS[direction]}
            </span>
            {t(`direction.${direction}`)}
            {cause !== null && <span className="unseen">, {sayOfPlan('likeliest', { cause: sayCause(cause) })}</span>}
          </Link>
        </li>
      ))}
    </ul>
  )
}
