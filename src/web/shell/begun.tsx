import { useEffect } from 'react'

/** So long a page has the line for itself: what is fetched for later waits. */
const AFTER_MS = 1500

let hasBegun = false

/** Stands beside a page, and begins once the first one is there: to send what waits, and to keep the lift's pages on the phone. */
export function Begun() {
  useEffect(() => {
    if (hasBegun) return
    hasBegun = true
    setTimeout(begin, AFTER_MS)
  }, [])
  return null
}

/** Where the network went just now, it is tried again with the network. */
function begin(): void {
  import('../offline/start.js').then(
    ({ startOffline }) => startOffline(),
    () => addEventListener('online', begin, { once: true }),
  )
}
