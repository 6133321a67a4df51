import { type KeyboardEvent, type PointerEvent, useRef, useState } from 'react'
import { BERTH_SIDES } from '../../../../contract/vocabulary.js'
import { useWidth } from '../../../drawing/use-width.js'
import { useDrawingWords } from './drawing-words.js'
import { cornersOf, headOf, type Point, planBox, toHalf } from './geometry.js'
import type { Harbour, Pontoon } from './harbour.js'
import './yard-plan.css'

/** Letters on the plan, whatever its scale [px]. */
const LETTERS_PX = 15
/** A shorter stroke was a tap [px]. Convention. */
const LEAST_STROKE_PX = 8
/** What an arrow key moves a pontoon by [m], and with the shift key. */
const NUDGE_M = 1
const LARGE_NUDGE_M = 10
const ARROWS: Readonly<Record<string, Point>> = {
  ArrowLeft: { x: -1, y: 0 },
  ArrowRight: { x: 1, y: 0 },
  ArrowUp: { x: 0, y: -1 },
  ArrowDown: { x: 0, y: 1 },
}

interface YardPlanProps {
  readonly harbour: Harbour
  readonly chosen: string | null
  /** Whether a stroke draws a new pontoon, rather than moving one that is there. */
  readonly isDrawing: boolean
  readonly onChoose: (pontoon: string) => void
  readonly onDraw: (shore: Point, head: Point) => void
  readonly onMove: (pontoon: string, shore: Point) => void
}

/** What the pointer is about: a new line, or a pontoon on its way. */
interface Stroke {
  readonly pontoon: Pontoon | null
  readonly from: Point
  readonly to: Point
}

/** The harbour from above, in metres. */
export function YardPlan({ harbour, chosen, isDrawing, onChoose, onDraw, onMove }: YardPlanProps) {
  const t = useDrawingWords()
  const svg = useRef<SVGSVGElement>(null)
  const frame = useRef<HTMLDivElement>(null)
  const widthPx = useWidth(frame)
  const [stroke, setStroke] = useState<Stroke | null>(null)
  const box = planBox(harbour)
  const metresPerPx = widthPx === 0 ? 0.2 : box.width / widthPx
  const pointOf = ({ clientX, clientY }: PointerEvent): Point => {
    const { left, top } = svg.current?.getBoundingClientRect() ?? { left: 0, top: 0 }
    return { x: box.x + (clientX - left) * metresPerPx, y: box.y + (clientY - top) * metresPerPx }
  }
  const begin = (event: PointerEvent, pontoon: Pontoon | null) => {
    if (isDrawing === (pontoon !== null) || event.button !== 0) return
    svg.current?.setPointerCapture(event.pointerId)
    const from = pointOf(event)
    setStroke({ pontoon, from, to: from })
  }
  const end = () => {
    setStroke(null)
    if (stroke === null) return
    const { pontoon, from, to } = stroke
    const isTap = Math.hypot(to.x - from.x, to.y - from.y) < LEAST_STROKE_PX * metresPerPx
    if (pontoon === null) return isTap ? undefined : onDraw(from, to)
    onChoose(pontoon.key)
    if (!isTap) onMove(pontoon.key, shifted(pontoon, { x: toHalf(to.x - from.x), y: toHalf(to.y - from.y) }))
  }
  const nudge = (event: KeyboardEvent, pontoon: Pontoon) => {
    if (event.key === 'Enter' || event.key === ' ') {
      event.preventDefault()
      return onChoose(pontoon.key)
    }
    const arrow = ARROWS[event.key]
    if (arrow === undefined) return
    event.preventDefault()
    const by = event.shiftKey ? LARGE_NUDGE_M : NUDGE_M
    onMove(pontoon.key, shifted(pontoon, { x: arrow.x * by, y: arrow.y * by }))
  }
  const shown = (pontoon: Pontoon): Pontoon => {
    if (stroke?.pontoon?.key !== pontoon.key) return pontoon
    const { x, y } = shifted(pontoon, { x: stroke.to.x - stroke.from.x, y: stroke.to.y - stroke.from.y })
    return { ...pontoon, shoreXM: x, shoreYM: y }
  }
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard, while no pontoon is drawn too
    <section className="yard-frame" aria-label={t('plan.label')} tabIndex={0}>
      <div ref={frame} className="yard-sheet">
        <svg
          ref={svg}
          className={isDrawing ? 'yard yard-drawing' : 'yard'}
          viewBox={`${box.x} ${box.y} ${box.width} ${box.height}`}
          onPointerDown={(event) => begin(event, null)}
          onPointerMove={(event) => setStroke((before) => before && { ...before, to: pointOf(event) })}
          onPointerUp={end}
          onPointerCancel={() => setStroke(null)}
        >
          <title>{t('plan.label')}</title>
          {harbour.pontoons.map((pontoon) => (
            <PontoonMark
              key={pontoon.key}
              pontoon={shown(pontoon)}
              isChosen={pontoon.key === chosen}
              lettersM={LETTERS_PX * metresPerPx}
              onPointerDown={(event) => begin(event, pontoon)}
              onKeyDown={(event) => nudge(event, pontoon)}
            />
          ))}
          {stroke?.pontoon === null && (
            <line className="yard-stroke" x1={stroke.from.x} y1={stroke.from.y} x2={stroke.to.x} y2={stroke.to.y} />
          )}
        </svg>
      </div>
    </section>
  )
}

function shifted({ shoreXM, shoreYM }: Pontoon, by: Point): Point {
  return { x: shoreXM + by.x, y: shoreYM + by.y }
}

interface PontoonMarkProps {
  readonly pontoon: Pontoon
  readonly isChosen: boolean
  readonly lettersM: number
  readonly onPointerDown: (event: PointerEvent) => void
  readonly onKeyDown: (event: KeyboardEvent) => void
}

function PontoonMark({ pontoon, isChosen, lettersM, onPointerDown, onKeyDown }: PontoonMarkProps) {
  const t = useDrawingWords()
  const head = headOf(pontoon)
  const line = { x1: pontoon.shoreXM, y1: pontoon.shoreYM, x2: head.x, y2: head.y }
  return (
    // biome-ignore lint/a11y/useSemanticElements: there is no button in a drawing
    <g
      className={isChosen ? 'yard-pontoon yard-chosen' : 'yard-pontoon'}
      role="button"
      tabIndex={0}
      aria-pressed={isChosen}
      aria-label={t('plan.pontoon', {
        name: pontoon.name,
        left: pontoon.left.length,
        right: pontoon.right.length,
        x: Math.round(pontoon.shoreXM),
        y: Math.round(pontoon.shoreYM),
      })}
      onPointerDown={onPointerDown}
      onKeyDown={onKeyDown}
    >
      {BERTH_SIDES.map((side) =>
        pontoon[side].map(({ key }, index) => (
          <polygon
            key={key}
            className="yard-berth"
            points={cornersOf(pontoon, side, index)
              .map(({ x, y }) => `${x},${y}`)
              .join(' ')}
          />
        )),
      )}
      <line className="yard-walkway" {...line} />
      <line className="yard-reach" {...line} />
      <rect
        className="yard-shore"
        x={pontoon.shoreXM - lettersM / 3}
        y={pontoon.shoreYM - lettersM / 3}
        width={(2 * lettersM) / 3}
        height={(2 * lettersM) / 3}
      />
      <text
        className="yard-name"
        x={(pontoon.shoreXM + head.x) / 2}
        y={(pontoon.shoreYM + head.y) / 2}
        fontSize={lettersM}
        strokeWidth={lettersM / 4}
      >
        {pontoon.name}
      </text>
    </g>
  )
}
