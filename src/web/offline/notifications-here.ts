/** Whether this browser shows notifications of ours: it cannot, it was told not to, or it does or does not. */
export type NotificationsHere = 'unsupported' | 'blocked' | 'off' | 'on'

/** As the Push API gives a subscription out. */
export type SubscriptionHere = PushSubscriptionJSON

/** How it is in this browser, and its subscription where there is one. */
export async function notificationsHere(): Promise<{ state: NotificationsHere; endpoint: string | null }> {
  const registration = await workerHere()
  if (registration === undefined) return { state: 'unsupported', endpoint: null }
  if (Notification.permission === 'denied') return { state: 'blocked', endpoint: null }
  const subscription = await registration.pushManager.getSubscription()
  return { state: subscription === null ? 'off' : 'on', endpoint: subscription?.endpoint ?? null }
}

/**
 * Subscribes this browser, after asking its person. One that was made with another key of the service is made anew.
 *
 * @param publicKey of the service (RFC 8292), base64url
 * @returns undefined where the person said no
 */
export async function subscribeHere(publicKey: string): Promise<SubscriptionHere | undefined> {
  const registration = await workerHere()
  if (registration === undefined) return undefined
  if ((await Notification.requestPermission()) !== 'granted') return undefined
  const key = bytesOf(publicKey)
  const subscribe = () => registration.pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: key })
  const subscription = await subscribe().catch(async (error: unknown) => {
    const older = await registration.pushManager.getSubscription()
    if (older === null) throw error
    await older.unsubscribe()
    return subscribe()
  })
  return subscription.toJSON()
}

/** The subscription of this browser; null where there is none. */
export async function subscriptionHere(): Promise<SubscriptionHere | null> {
  const registration = await workerHere()
  return (await registration?.pushManager.getSubscription())?.toJSON() ?? null
}

/** Ends the subscription of this browser. @returns its endpoint, for the service to forget; null where there was none */
export async function unsubscribeHere(): Promise<string | null> {
  const registration = await workerHere()
  const subscription = (await registration?.pushManager.getSubscription()) ?? null
  if (subscription === null) return null
  await subscription.unsubscribe()
  return subscription.endpoint
}

/** The service worker, which shows notifications while the app is closed. There is none on plain HTTP. */
async function workerHere(): Promise<ServiceWorkerRegistration | undefined> {
  if (!('serviceWorker' in navigator) || !('PushManager' in window) || !('Notification' in window)) return undefined
  return navigator.serviceWorker.getRegistration()
}

function bytesOf(base64url: string): Uint8Array<ArrayBuffer> {
  const text = atob(base64url.replaceAll('-', '+').replaceAll('_', '/'))
  return Uint8Array.from(text, (character) => character.charCodeAt(0))
}
