import { DIRECTION_SYMBOLS, type Direction } from '../../wording/finding-words.js'
import type { RateSpan } from './finding-sentences.js'
import { t } from './findings-words.js'
import './wear-scale.css'

/** The scale ends at a sixteenth and at sixteen times the rate expected; what lies beyond is drawn at its end. Convention. */
const DOUBLINGS = 4
const WIDTH = 160
const HEIGHT = 30
const MIDDLE = HEIGHT / 2

/** Place of a log ratio on the scale: the rate expected in the middle, faster to the right. */
function placeOf(log: number): number {
  const share = log / Math.LN2 / DOUBLINGS
  return (WIDTH / 2) * (1 + Math.min(1, Math.max(-1, share)))
}

interface WearScaleProps {
  direction: Direction
  span: RateSpan | null
}

/** How far from the rate expected: a mark with its interval between a sixteenth and sixteen times. Its text stands beside it. */
export function WearScale({ direction, span }: WearScaleProps) {
  if (span === null) return null
  const at = placeOf(span.mean)
  const [low, high] = [placeOf(span.low), placeOf(span.high)]
  return (
    <svg className={`wear-scale wear-scale-${direction}`} viewBox={`-8 0 ${WIDTH + 16} ${HEIGHT}`} aria-hidden="true">
      <rect x="0" y={MIDDLE - 3} width={WIDTH} height="6" rx="3" className="wear-scale-water" />
      {Array.from({ length: 2 * DOUBLINGS + 1 }, (_, tick) => tick - DOUBLINGS).map((tick) => (
        <rect
          key={tick}
          x={placeOf(tick * Math.LN2) - (tick === 0 ? 1 : 0.5)}
          y={MIDDLE - (tick === 0 ? 13 : 6)}
          width={tick === 0 ? 2 : 1}
          height={tick === 0 ? 26 : 12}
          className={tick === 0 ? 'wear-scale-expected' : 'wear-scale-tick'}
        />
      ))}
      <rect x={low} y={MIDDLE - 6} width={Math.max(high - low, 3)} height="12" rx="2" className="wear-scale-span" />
      {direction === 'slow' ? (
        <path d={`M${at - 8} ${MIDDLE - 7}h16l-8 14z`} className="wear-scale-mark wear-scale-hollow" />
      ) : (
        <path d={`M${at - 8} ${MIDDLE + 7}h16l-8 -14z`} className="wear-scale-mark" />
      )}
    </svg>
  )
}

/** Fast, slow or other: a word with a shape of its own. */
export function DirectionTag({ direction }: { direction: Direction }) {
  return (
    <span className={`tag tag-${direction}`}>
      <span aria-hidden="true">{DIRECTION_SYMBOLS[direction]}</span>
      {t(`direction.${direction}`)}
    </span>
  )
}
