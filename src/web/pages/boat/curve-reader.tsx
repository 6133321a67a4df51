import { type PointerEvent, useMemo, useState } from 'react'
import type { Frame } from '../../drawing/drawing.js'
import { sayDay } from '../../wording/days.js'
import { t } from './boat-words.js'
import { type CurvePoint, dayOf, nearestPoint, readablePoints, sayReading } from './curve-reading.js'
import './curve-reader.css'

interface CurveReaderProps {
  curve: readonly CurvePoint[]
  frame: Frame
  today: Date
}

/**
 * Lies over a depletion plot: a marker that goes along the curve with the pointer or the arrow keys, and its values in
 * words. Moves from point to point of the service's curve, so that what is read is what was worked out.
 */
export function CurveReader({ curve, frame, today }: CurveReaderProps) {
  const points = useMemo(() => readablePoints(curve), [curve])
  const [index, setIndex] = useState<number | null>(null)
  if (points.length < 2) return null
  const start = nearestPoint(points, today.getTime())
  const point = index === null ? undefined : points[index]
  const follow = ({ currentTarget, clientX }: PointerEvent) => {
    const { left, width } = currentTarget.getBoundingClientRect()
    const x = ((clientX - left) * frame.width) / width
    setIndex(nearestX(points, frame, x))
  }
  return (
    <>
      <div className="reader" onPointerDown={follow} onPointerMove={follow}>
        <svg viewBox={`0 0 ${frame.width} ${frame.height}`} aria-hidden="true">
          {point && <Marker point={point} frame={frame} />}
        </svg>
        <input
          type="range"
          aria-label={t('reader.label')}
          aria-valuetext={sayDay(dayOf((point ?? points[start] ?? { at: today }).at))}
          min={0}
          max={points.length - 1}
          value={index ?? start}
          onFocus={() => setIndex((before) => before ?? start)}
          onChange={(event) => setIndex(Number(event.target.value))}
        />
      </div>
      <p className="reading small" aria-live="polite">
        {point ? sayReading(point) : t('reader.hint')}
      </p>
    </>
  )
}

function nearestX(points: readonly CurvePoint[], frame: Frame, x: number): number {
  const distances = points.map(({ at }) => Math.abs(frame.xOf(at) - x))
  return distances.indexOf(Math.min(...distances))
}

function Marker({ point: { at, p10, p50, p90 }, frame: { xOf, yOf } }: { point: CurvePoint; frame: Frame }) {
  const x = xOf(at)
  return (
    <g className="reader-marker">
      <line x1={x} x2={x} y1={yOf(p10)} y2={yOf(p90)} />
      <circle cx={x} cy={yOf(p50)} r="6" />
    </g>
  )
}
