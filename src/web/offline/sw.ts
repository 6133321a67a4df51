import { notificationOf } from './notification.js'

/** Filled in by the build: the app's files that are kept at once, and the name of this build. */
declare const __KEPT_FILES__: readonly string[]
declare const __BUILD__: string

// Beside the page's types the compiler has no room for those of a worker: the few that are used.
interface Lasting extends Event {
  waitUntil(work: Promise<unknown>): void
}
interface Fetching extends Lasting {
  readonly request: Request
  respondWith(answer: Promise<Response>): void
}
interface Pushed extends Lasting {
  readonly data: { text(): string } | null
}
interface Pressed extends Lasting {
  readonly notification: Notification
}
interface Window {
  readonly url: string
  focus(): Promise<unknown>
}
interface Worker {
  readonly clients: {
    claim(): Promise<void>
    matchAll(which: { type: 'window' }): Promise<readonly Window[]>
    openWindow(url: string): Promise<unknown>
  }
  readonly registration: { showNotification(title: string, options: NotificationOptions): Promise<void> }
  skipWaiting(): Promise<void>
  addEventListener(type: 'message', listener: (event: MessageEvent) => void): void
  addEventListener(type: 'install' | 'activate', listener: (event: Lasting) => void): void
  addEventListener(type: 'push', listener: (event: Pushed) => void): void
  addEventListener(type: 'notificationclick', listener: (event: Pressed) => void): void
  addEventListener(type: 'fetch', listener: (event: Fetching) => void): void
}
const worker = globalThis as unknown as Worker

const NAME = `app ${__BUILD__}`
const PAGE = '/index.html'
const LIFT_PAGE = '/lift.html'
const OF_THE_LIFT = /^\/lift(\/|$)/
/** Paths of the service itself: never answered from here. */
const OWN_PATHS = /^\/(v1|docs|health)(\/|$)/

/*
 * A new build waits while a page of the one before is in use, so that this finds its own files; the next page that starts
 * lets it in.
 */
worker.addEventListener('message', ({ data }) => {
  if (data === 'take over') void worker.skipWaiting()
})

worker.addEventListener('install', (event) => {
  event.waitUntil(caches.open(NAME).then((cache) => cache.addAll([...__KEPT_FILES__])))
})

worker.addEventListener('activate', (event) => {
  event.waitUntil(forgetOlder().then(() => worker.clients.claim()))
})

worker.addEventListener('fetch', (event) => {
  const { request } = event
  const url = new URL(request.url)
  if (request.method !== 'GET' || url.origin !== location.origin || OWN_PATHS.test(url.pathname)) return
  if (request.mode === 'navigate') event.respondWith(page(request))
  else if (url.pathname.startsWith('/assets/')) event.respondWith(asset(request))
  else event.respondWith(keptOrFetched(request))
})

worker.addEventListener('push', (event) => {
  const { title, url, ...shown } = notificationOf(event.data?.text() ?? null, location.origin)
  event.waitUntil(worker.registration.showNotification(title, { ...shown, icon: '/icon-192.png', data: url }))
})

worker.addEventListener('notificationclick', (event) => {
  event.notification.close()
  event.waitUntil(openPage(String(event.notification.data)))
})

/** A window that shows it already comes to the front; any other may be in the middle of a haul-out and is left alone. */
async function openPage(url: string): Promise<void> {
  const open = (await worker.clients.matchAll({ type: 'window' })).find((window) => window.url === url)
  await (open === undefined ? worker.clients.openWindow(url) : open.focus())
}

async function forgetOlder(): Promise<void> {
  for (const name of await caches.keys()) if (name.startsWith('app ') && name !== NAME) await caches.delete(name)
}

/** One page stands for every address of the lift, one for every other of the app. */
async function page(request: Request): Promise<Response> {
  const kept = OF_THE_LIFT.test(new URL(request.url).pathname) ? LIFT_PAGE : PAGE
  return (await (await caches.open(NAME)).match(kept)) ?? fetch(request)
}

/** Built files never change under their name: what was fetched once is kept. */
async function asset(request: Request): Promise<Response> {
  const cache = await caches.open(NAME)
  const kept = await cache.match(request)
  if (kept) return kept
  const answer = await fetch(request)
  if (answer.ok) await cache.put(request, answer.clone())
  return answer
}

async function keptOrFetched(request: Request): Promise<Response> {
  return (await (await caches.open(NAME)).match(request)) ?? fetch(request)
}
