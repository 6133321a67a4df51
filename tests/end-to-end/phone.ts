import type { Browser, BrowserContext, Locator, Page } from 'playwright-core'
import { PHONE } from './browser.js'

/** A phone at the lift: keeps what it holds when its page is closed, and counts what its holder taps. */
export interface Phone {
  readonly context: BrowserContext
  readonly page: Page
  readonly taps: () => number
  readonly complaints: readonly string[]
  tap(target: Locator): Promise<void>
  /** Types a figure on the keypad, one tap a key. */
  key(figure: string): Promise<void>
  /** Closes the page and opens another one at a path, as somebody who comes back to it. */
  comeBack(path: string): Promise<void>
  close(): Promise<void>
}

/**
 * What a browser says of a missing network is no fault of the page. The last of them it says when it looks, at a moment
 * of its own choosing, whether there is a newer service worker, and finds no network.
 */
const OF_THE_NETWORK =
  /ERR_INTERNET_DISCONNECTED|ERR_FAILED|ERR_CONNECTION_(REFUSED|RESET)|status of (401|404|409|422)|^An unknown error occurred when fetching the script\.$/

export async function openPhone(browser: Browser, address: string): Promise<Phone> {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, locale: 'en-GB' })
  const complaints: string[] = []
  context.on('console', (message) => {
    if (message.type() === 'error' && !OF_THE_NETWORK.test(message.text())) complaints.push(message.text())
  })
  context.on('weberror', (error) => complaints.push(error.error().message))
  let page = await context.newPage()
  let taps = 0
  await page.goto(`${address}/sign-in`)
  await page.getByRole('button', { name: 'Look as staff' }).click()
  await page.getByRole('heading', { name: 'Fleet' }).waitFor()
  const tap = async (target: Locator) => {
    taps++
    await target.tap()
  }
  return {
    context,
    complaints,
    tap,
    get page() {
      return page
    },
    taps: () => taps,
    key: async (figure) => {
      const keypad = page.locator('.keypad')
      for (const digit of figure) await tap(keypad.getByRole('button', { name: digit, exact: true }))
    },
    comeBack: async (path) => {
      await page.close()
      page = await context.newPage()
      await page.goto(address + path)
    },
    close: () => context.close(),
  }
}
