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
      <path className="hull-topside" d="M10 30 12 46H340L352 22Q200 34 10 30Z" />
      <path className="hull-bottom" d="M12 46H340Q322 62 286 70L232 76H150Q96 74 52 66 24 60 12 46Z" />
      <path className="hull-keel" d="M176 76H262L246 118Q212 124 192 118Z" />
      <path className="hull-part" d="M24 60 48 64 44 116Q34 120 26 114Z" />
      {has('skeg') && <path className="hull-part" d="M48 64 78 70 62 84 50 80Z" />}
      {has('shaft') && (
        <>
          <path className="hull-metal" d="M150 72 68 94l1.500 4L158 76Z" />
          <path className="hull-metal" d="M84 74l4 15-3 1-6-17Z" />
          <path className="hull-metal" d="M60 80q10 7 6 14 4 7-2 15-6-7-2-15-6-7-2-14Z" />
        </>
      )}
      {has('saildrive leg') && (
        <>
          <path className="hull-metal" d="M114 75h20l4 22q2 14-14 16l-18 1q-8-1-8-6t8-6l8-2Z" />
          <path className="hull-metal" d="M96 92q6 8 3 16 3 8-3 16-6-8-2-16-5-8 2-16Z" />
        </>
      )}
      {has('trim tab') && <path className="hull-metal" d="M12 50 1 58l1.500 3L17 54Z" />}
      {has('bow thruster') && (
        <>
          <circle className="hull-part" cx="300" cy="59" r="8" />
          <path className="hull-metal" d="M300 52q4 5 0 7 4 3 0 7-4-4 0-7-4-2 0-7Z" />
        </>
      )}
      {has('heat exchanger') && <rect className="hull-inside" x="128" y="44" width="28" height="14" rx="3" />}
      <path className="hull-waterline" d="M0 46H360" />
      <text className="hull-word" x="2" y="16">
        {t('boat.stern')}
      </text>
      <text className="hull-word" x="358" y="16" textAnchor="end">
        {t('boat.bow')}
      </text>
      {badges.map(({ placed: { anode, x, y }, x: share }) => (
        <path key={anode.id} className="hull-lead" d={`M${x} ${y}L${share * DRAWING.width} ${DRAWING.height}`} />
      ))}
      {placed.map(({ anode, x, y }) => (
        <circle key={anode.id} className="hull-anode" cx={x} cy={y} r="4.500" />
      ))}
    </svg>
  )
}
