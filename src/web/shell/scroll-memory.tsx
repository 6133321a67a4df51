import { useLayoutEffect, useRef } from 'react'
import { useLocation, useNavigationType } from 'react-router'

/** How far down each entry of the history was, by its key. */
const positions = new Map<string, number>()

/** A new page begins at its top; back and forward come to where they left. The library has this for its larger router alone. */
export function ScrollMemory() {
  const { pathname, key } = useLocation()
  const way = useNavigationType()
  const shown = useRef(pathname)
  useLayoutEffect(() => {
    history.scrollRestoration = 'manual'
    return () => {
      history.scrollRestoration = 'auto'
    }
  }, [])
  useLayoutEffect(() => {
    const isOther = shown.current !== pathname
    shown.current = pathname
    const before = way === 'POP' ? positions.get(key) : undefined
    if (isOther || before !== undefined) scrollTo({ top: before ?? 0, behavior: 'instant' })
    const keep = () => positions.set(key, scrollY)
    keep()
    addEventListener('scroll', keep, { passive: true })
    return () => removeEventListener('scroll', keep)
  }, [pathname, key, way])
  return null
}
