import { useSyncExternalStore } from 'react'
import { type Outbox, onOutboxChange, outboxNow } from './outbox.js'

/** The outbox, as it changes. */
export function useOutbox(): Outbox {
  return useSyncExternalStore(onOutboxChange, outboxNow)
}

/** Whether the phone says that it has a network. It may be wrong: only an answer proves one. */
export function useIsOnline(): boolean {
  return useSyncExternalStore(onNetworkChange, () => navigator.onLine)
}

function onNetworkChange(listener: () => void): () => void {
  addEventListener('online', listener)
  addEventListener('offline', listener)
  return () => {
    removeEventListener('online', listener)
    removeEventListener('offline', listener)
  }
}
