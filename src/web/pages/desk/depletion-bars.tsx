import type { DepletionPage, DepletionStrip } from '../../../contract/desk.js'
import { daysBetween } from '../../wording/days.js'

const CELL = 10
const GAP = 1
const HEIGHT = 30
const THIS_MONTH = 12
const DAYS_PER_MONTH = 365.25 / 12

interface DepletionBarsProps {
  row: DepletionStrip
  months: DepletionPage['months']
  label: string
}

/** A bar a month: full where the worst anode is due. What lies ahead is drawn lighter; triangles are haul-outs. */
export function DepletionBars({ row, months, label }: DepletionBarsProps) {
  const width = months.length * CELL
  return (
    <div className="strip">
      <svg viewBox={`0 0 ${width} ${HEIGHT}`} preserveAspectRatio="none" role="img" aria-label={label}>
        {months.map((month, index) => (
          <Bar key={month} used={row.used[index] ?? null} index={index} />
        ))}
        <path className="strip-now" d={`M${THIS_MONTH * CELL} 0v${HEIGHT}`} />
      </svg>
      {row.lifts.map(({ on, planned }) => (
        <span
          key={on}
          className="strip-lift"
          aria-hidden="true"
          style={{ left: `${(daysBetween(months[0]!, on) / DAYS_PER_MONTH / months.length) * 100}%` }}
        >
          {planned ? '△' : '▲'}
        </span>
      ))}
    </div>
  )
}

function Bar({ used, index }: { used: number | null; index: number }) {
  const x = index * CELL + GAP / 2
  const height = used === null ? 0 : Math.min(1, used) * HEIGHT
  return (
    <g className={index < THIS_MONTH ? '' : 'strip-ahead'}>
      <rect className="strip-ground" x={x} width={CELL - GAP} height={HEIGHT} />
      {used !== null && (
        <rect className={`strip-${gradeOf(used)}`} x={x} y={HEIGHT - height} width={CELL - GAP} height={height} />
      )}
    </g>
  )
}

function gradeOf(used: number): 'low' | 'mid' | 'due' {
  if (used >= 1) return 'due'
  return used > 0.5 ? 'mid' : 'low'
}
