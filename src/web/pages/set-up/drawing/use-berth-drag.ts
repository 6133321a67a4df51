import { type MouseEvent, type PointerEvent, useRef, useState } from 'react'
import type { BerthSide } from '../../../../contract/vocabulary.js'

/** Less is a hand that trembles [px]. Convention. */
const LEAST_DRAG_PX = 6

/** Where a berth may be let go. */
export interface Drop {
  readonly pontoon: string
  readonly side: BerthSide
  readonly index: number
}

/** A berth on its way, where the pointer is on the screen, and over which place. */
export interface BerthDrag {
  readonly berth: string
  readonly name: string
  readonly x: number
  readonly y: number
  readonly over: Drop | null
}

/** Attributes of what a berth may be let go on. */
export function dropAttributes({ pontoon, side, index }: Drop) {
  return { 'data-drop': pontoon, 'data-side': side, 'data-index': index }
}

function dropAt(x: number, y: number): Drop | null {
  const place = document.elementFromPoint(x, y)?.closest<HTMLElement>('[data-drop]')
  if (!place) return null
  const { drop = '', side, index } = place.dataset
  return { pontoon: drop, side: side === 'left' ? 'left' : 'right', index: Number(index) }
}

/** Drags berths by mouse, pen or finger; a finger drags what is chosen, and scrolls by anything else. */
export function useBerthDrag(onDrop: (berth: string, drop: Drop) => void) {
  const [drag, setDrag] = useState<BerthDrag | null>(null)
  const begun = useRef<{ readonly x: number; readonly y: number } | null>(null)
  // The click that comes with letting go chooses nothing.
  const wasDragged = useRef(false)
  const handlersOf = (berth: string, name: string) => ({
    onPointerDown: ({ clientX, clientY, button }: PointerEvent) => {
      wasDragged.current = false
      if (button === 0) begun.current = { x: clientX, y: clientY }
    },
    onPointerMove: ({ clientX: x, clientY: y, currentTarget, pointerId }: PointerEvent) => {
      if (begun.current === null) return
      if (drag === null && Math.hypot(x - begun.current.x, y - begun.current.y) < LEAST_DRAG_PX) return
      currentTarget.setPointerCapture(pointerId)
      wasDragged.current = true
      setDrag({ berth, name, x, y, over: dropAt(x, y) })
    },
    onPointerUp: ({ clientX, clientY }: PointerEvent) => {
      begun.current = null
      setDrag(null)
      const drop = wasDragged.current ? dropAt(clientX, clientY) : null
      if (drop !== null) onDrop(berth, drop)
    },
    onPointerCancel: () => {
      begun.current = null
      setDrag(null)
    },
    onClickCapture: (event: MouseEvent) => {
      if (wasDragged.current) event.stopPropagation()
      wasDragged.current = false
    },
  })
  return { drag, handlersOf }
}
