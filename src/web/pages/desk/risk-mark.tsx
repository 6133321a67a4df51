import { sayShare, useDeskWords } from './desk-words.js'

/** The recommended date keeps the risk at 10 %: above it the wait is longer than advised. */
const ADVISED_RISK = 0.1
const MORE_LIKELY_THAN_NOT = 0.5

/** A probability as a figure, with a mark whose shape tells its grade too. */
export function RiskMark({ risk }: { risk: number }) {
  const t = useDeskWords()
  return (
    <span className={`desk-risk desk-risk-${gradeOf(risk)}`}>
      <svg viewBox="0 0 14 14" width="14" height="14" aria-hidden="true">
        {gradeOf(risk) === 'kept' && <circle cx="7" cy="7" r="5" />}
        {gradeOf(risk) === 'raised' && <path d="M7 1 13 13H1z" />}
        {gradeOf(risk) === 'likely' && <path d="M1 1h12v12H1z" />}
      </svg>
      <strong>{sayShare(risk, t)}</strong>
    </span>
  )
}

function gradeOf(risk: number): 'kept' | 'raised' | 'likely' {
  if (risk <= ADVISED_RISK) return 'kept'
  return risk <= MORE_LIKELY_THAN_NOT ? 'raised' : 'likely'
}
