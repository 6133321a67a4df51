import { sendOutbox } from './send-outbox.js'

/** Keeps the app's files on the phone, and sends what waits whenever there may be a network again. */
export function startOffline(): void {
  addEventListener('online', () => void sendOutbox())
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') void sendOutbox()
  })
  // A phone that keeps nothing has nothing to send.
  sendOutbox().catch((error: unknown) => console.warn('the outbox cannot be read', error))
  // On plain HTTP there is none: logging then needs the page to be open, and the outbox works all the same.
  if ('serviceWorker' in navigator && import.meta.env.PROD) {
    keepFiles().catch((error: unknown) => console.warn('not kept for offline', error))
  }
}

/** Lets in a build that was fetched earlier: the page has just started, and nothing is lost by starting once more. */
async function keepFiles(): Promise<void> {
  const { waiting, active } = await navigator.serviceWorker.register('/sw.js')
  if (waiting === null || active === null) return
  navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true })
  waiting.postMessage('take over')
}
