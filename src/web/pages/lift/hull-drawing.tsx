import type { PositionKind } from '../../../contract/vocabulary.js'
import { type Badge, DRAWING, partsDrawn } from './hull-layout.js'
import { useLiftWords } from './lift-words.js'

/** The boat below its waterline, from the side; what carries no anode is left out. */
export function HullDrawing({ badges }: { badges: readonly Badge[] }) {
  const t = useLiftWords()
  const placed = badges.map((badge) => badge.placed)
  const drawn = partsDrawn(placed.map(({ anode }) => anode))
  const has = (kind: PositionKind) => drawn.has(kind)
  return (
    <svg
      className="hull-drawing"
      viewBox={`0 0 ${DRAWING.width} ${DRAWING.height}`}
      role="img"
      aria-label={t('boat.drawing', { count: placed.length })}
    >
      <path className="hull-sea" d={`M0 52H${DRAWING.width}V${DRAWING.height}H0Z`} />
      <path className="hull-topside" d="M5 30C90 33 250 32 354 14L338 52H14Z" />
      <path className="hull-boot" d="M13 47H340L338 54H15Z" />
      <path className="hull-bottom" d="M14 53H338C322 74 286 85 236 90 176 95 104 90 66 80 40 73 24 64 14 53Z" />
      <path className="hull-keel" d="M178 91C204 92 236 91 258 88L250 128Q249 134 242 135L200 137Q191 137 190 130Z" />
      <path className="hull-part" d="M22 64 52 77 48 128Q47 134 41 134L31 132Q26 131 25 125Z" />
      <path className="hull-line" d="M40 73 38 132" />
      {has('skeg') && <path className="hull-part" d="M52 77 92 87 70 102 50 98Z" />}
      {has('shaft') && (
        <>
          <path className="hull-metal" d="M168 88 72 107l1 4.500L176 92Z" />
          <path className="hull-metal" d="M92 86 97 104l5-1-4-16Z" />
          <path className="hull-metal" d="M66 89q9 8 5 19 4 12-4 21-6-9-3-20-5-11 2-20Z" />
        </>
      )}
      {has('saildrive leg') && (
        <>
          <path className="hull-metal" d="M117 91h23l4 24q2 16-14 19l-22 1q-8-1-8-6t8-6l6-2Z" />
          <path className="hull-metal" d="M99 110q7 9 3 18 4 9-3 18-6-9-2-18-5-9 2-18Z" />
        </>
      )}
      {has('trim tab') && <path className="hull-metal" d="M15 55 2 68l2.500 3L19 60Z" />}
      {has('bow thruster') && (
        <>
          <circle className="hull-part" cx="300" cy="68" r="10" />
          <path className="hull-metal" d="M300 59q5 6 0 9 5 3 0 9-5-6 0-9-5-3 0-9Z" />
        </>
      )}
      {has('heat exchanger') && <rect className="hull-inside" x="129" y="50" width="34" height="18" rx="3" />}
      <path className="hull-waterline" d="M0 52H360" />
      <text className="hull-word" x="4" y="20">
        {t('boat.stern')}
      </text>
      <text className="hull-word" x="356" y="11" textAnchor="end">
        {t('boat.bow')}
      </text>
      {badges.map(({ placed: { anode, x, y }, x: share }) => (
        <path key={anode.id} className="hull-lead" d={`M${x} ${y}L${share * DRAWING.width} ${DRAWING.height - 6}v6`} />
      ))}
      {placed.map(({ anode, x, y }) => (
        <circle key={anode.id} className="hull-anode" cx={x} cy={y} r="4.500" />
      ))}
    </svg>
  )
}
