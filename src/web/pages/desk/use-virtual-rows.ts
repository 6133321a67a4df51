import { useWindowVirtualizer } from '@tanstack/react-virtual'
import { useLayoutEffect, useRef, useState } from 'react'

/** Rows beyond the screen that are kept, for quick thumbs. */
const OVERSCAN = 8

/**
 * Which of thousands of rows the window shows, so that only they are there.
 *
 * @param height about how high one is [px]; each is measured once it is shown
 */
export function useVirtualRows<Place extends HTMLElement>(keys: readonly string[], height: number) {
  const place = useRef<Place>(null)
  const [top, setTop] = useState(0)
  useLayoutEffect(() => {
    const at = place.current?.getBoundingClientRect().top ?? 0
    setTop(Math.round(at + window.scrollY))
  }, [])
  const list = useWindowVirtualizer({
    count: keys.length,
    estimateSize: () => height,
    overscan: OVERSCAN,
    // Drawn with the next frame, not within each event of a quick thumb.
    useFlushSync: false,
    scrollMargin: top,
    getItemKey: (index) => keys[index] ?? index,
  })
  return { place, top, list }
}
