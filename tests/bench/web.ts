import type { Browser, BrowserContext, Page } from 'playwright-core'
import { launchBrowser, PHONE } from '../end-to-end/browser.js'
import { startDemo } from '../process/running-demo.js'

/** Common practice of browsers' own tools: a slow phone, and slow 3G. */
const CPU_SLOWER = 4
const ROUND_TRIP_MS = 400
const BITS_PER_SECOND = 400_000
const NETWORK = {
  offline: false,
  latency: ROUND_TRIP_MS,
  downloadThroughput: BITS_PER_SECOND / 8,
  uploadThroughput: BITS_PER_SECOND / 8,
}
const LIMIT_MS = 60_000
/** Seldom, for looking takes the page's own time. */
const LOOK_MS = 500

interface Load {
  readonly appBytes: number
  readonly dataBytes: number
  readonly files: number
  readonly interactiveMs: number
}

/** The list at the lift on a slow phone with a slow line: at first, and again with the service worker. Needs `npm run build`. */
export async function run(): Promise<void> {
  const demo = await startDemo()
  const browser = await launchBrowser()
  try {
    const context = await signedIn(browser, demo.address)
    say('first load', await load(context, demo.address))
    await untilKept(context, demo.address)
    say('second load', await load(context, demo.address))
  } finally {
    await browser.close()
    await demo.stop()
  }
}

function say(name: string, { appBytes, dataBytes, files, interactiveMs }: Load): void {
  console.log(
    `${name}: interactive after ${Math.round(interactiveMs)} ms; ` +
      `${files} files, ${appBytes} bytes of the app and ${dataBytes} of data over the line`,
  )
}

async function signedIn(browser: Browser, address: string): Promise<BrowserContext> {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, locale: 'en-GB' })
  context.setDefaultTimeout(LIMIT_MS)
  const answer = await context.request.post(`${address}/v1/demo/look-as`, {
    data: { role: 'staff' },
    headers: { origin: address },
  })
  if (answer.status() !== 204) throw new Error(`nobody is signed in: ${answer.status()}`)
  return context
}

/**
 * In the page, frame by frame: presses the button that opens the camera once it stands, and notes when the page has
 * answered by taking it away. Told as text, for what a compiler adds to functions is not known there.
 */
const PRESS_AT_ONCE = `
  let isPressed = false
  requestAnimationFrame(function look(now) {
    const button = document.querySelector('.lift-scan')
    if (button === null && isPressed) window.answeredAt = performance.now()
    else {
      if (button !== null && !isPressed) { isPressed = true; button.click() }
      requestAnimationFrame(look)
    }
  })`

/** Until the page does what is pressed, by the page's own clock from the start of its navigation. */
async function load(context: BrowserContext, address: string): Promise<Load> {
  const page = await context.newPage()
  await page.addInitScript(PRESS_AT_ONCE)
  const counted = await slowDown(page)
  await page.goto(`${address}/lift`, { waitUntil: 'commit' })
  const answeredAt = () => page.evaluate(() => Number(Reflect.get(globalThis, 'answeredAt') ?? 0))
  let interactiveMs = 0
  for (let tries = 0; interactiveMs === 0; tries++) {
    if (tries * LOOK_MS > LIMIT_MS) throw new Error('the page never answered')
    await page.waitForTimeout(LOOK_MS)
    interactiveMs = await answeredAt()
  }
  const loaded = { ...counted(), interactiveMs }
  await page.close()
  return loaded
}

async function slowDown(page: Page): Promise<() => Omit<Load, 'interactiveMs'>> {
  const devTools = await page.context().newCDPSession(page)
  await devTools.send('Network.enable')
  await devTools.send('Network.emulateNetworkConditions', NETWORK)
  await devTools.send('Emulation.setCPUThrottlingRate', { rate: CPU_SLOWER })
  const paths = new Map<string, string>()
  const sizes = { app: 0, data: 0, files: 0 }
  devTools.on('Network.requestWillBeSent', ({ requestId, request }) => {
    paths.set(requestId, new URL(request.url).pathname)
  })
  devTools.on('Network.loadingFinished', ({ requestId, encodedDataLength }) => {
    const isData = paths.get(requestId)?.startsWith('/v1/') ?? false
    sizes[isData ? 'data' : 'app'] += encodedDataLength
    if (!isData && encodedDataLength > 0) sizes.files++
  })
  return () => ({ appBytes: sizes.app, dataBytes: sizes.data, files: sizes.files })
}

/** Until the service worker has stored the app's files. */
async function untilKept(context: BrowserContext, address: string): Promise<void> {
  const page = await context.newPage()
  await page.goto(`${address}/lift`)
  await page.locator('.lift-scan').waitFor()
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined))
  await page.reload()
  await page.locator('.lift-scan').waitFor()
  await page.close()
}
