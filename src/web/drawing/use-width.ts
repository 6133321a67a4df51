import { type RefObject, useEffect, useState } from 'react'

/** How wide an element is by now [px]; 0 before it is there. */
export function useWidth(place: RefObject<Element | null>): number {
  const [width, setWidth] = useState(0)
  useEffect(() => {
    if (!place.current) return
    const observer = new ResizeObserver(([entry]) => setWidth(Math.floor(entry?.contentRect.width ?? 0)))
    observer.observe(place.current)
    return () => observer.disconnect()
  }, [place])
  return width
}
