import { useSyncExternalStore } from 'react'

const WIDE = '(min-width: 900px)'

/** Whether the screen has room for a table of many columns; told anew when it is turned. */
export function useIsWide(): boolean {
  return useSyncExternalStore(
    (onChange) => {
      const query = window.matchMedia(WIDE)
      query.addEventListener('change', onChange)
      return () => query.removeEventListener('change', onChange)
    },
    () => window.matchMedia(WIDE).matches,
  )
}
