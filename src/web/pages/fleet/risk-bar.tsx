import { sayPercent } from '../../wording/amounts.js'
import './risk-bar.css'

/** The recommended date keeps the risk at 10 %: above it the wait is longer than advised. */
const ADVISED_RISK = 0.1
const MORE_LIKELY_THAN_NOT = 0.5

/** A probability as a number and a bar of ten cells. */
export function RiskBar({ risk }: { risk: number }) {
  return (
    <span className={`risk risk-${gradeOf(risk)}`}>
      <strong>{sayRisk(risk)}</strong>
      <svg viewBox="0 0 100 14" aria-hidden="true">
        {Array.from({ length: 10 }, (_, cell) => {
          const filled = Math.min(1, Math.max(0, risk * 10 - cell))
          return (
            // biome-ignore lint/suspicious/noArrayIndexKey: the cells are the ten tenths, always in this order
            <g key={cell}>
              <rect x={cell * 10 + 0.75} y="0.75" width="8.500" height="12.500" rx="1.500" className="risk-cell" />
              <rect
                x={cell * 10 + 0.75}
                y="0.75"
                width={8.5 * filled}
                height="12.500"
                rx="1.500"
                className="risk-part"
              />
            </g>
          )
        })}
      </svg>
    </span>
  )
}

/** Short enough for a column; neither end is ever certain. */
function sayRisk(risk: number): string {
  if (risk < 0.01) return '< 1 %'
  return risk > 0.99 ? '> 99 %' : sayPercent(risk)
}

function gradeOf(risk: number): 'kept' | 'raised' | 'likely' {
  if (risk <= ADVISED_RISK) return 'kept'
  return risk <= MORE_LIKELY_THAN_NOT ? 'raised' : 'likely'
}
