import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { DESK, isBrowserWanted, launchBrowser, openPage, PHONE, type WatchedPage } from './browser.js'
import { type RunningService, startServiceWithFleet } from './running-service.js'

if (!isBrowserWanted) console.log('browser tests are skipped: no Chromium was found (set CHROMIUM_PATH)')

const SET_UP_LIMIT_MS = 360_000
const TEST_LIMIT_MS = 120_000
const TODAY = new Date().toISOString().slice(0, 10)
/** A page that is fetched on a machine that does other work too. */
const SOON = { timeout: 30_000 }

describe.skipIf(!isBrowserWanted)('the frame around all pages', { timeout: TEST_LIMIT_MS }, () => {
  let browser: Browser
  let service: RunningService

  beforeAll(async () => {
    browser = await launchBrowser()
    service = await startServiceWithFleet(TODAY)
  }, SET_UP_LIMIT_MS)

  afterAll(async () => {
    await browser?.close()
    await service?.stop()
  }, SET_UP_LIMIT_MS)

  async function enter(path: string, viewport: typeof PHONE | typeof DESK = PHONE): Promise<WatchedPage> {
    const watched = await openPage(browser, viewport)
    const origin = { origin: service.address }
    await watched.page.request.post(`${service.address}/v1/demo/look-as`, {
      data: { role: 'manager' },
      headers: origin,
    })
    await watched.page.goto(service.address + path)
    return watched
  }

  const down = (page: Page) => page.evaluate(() => Math.round(scrollY))
  it('begins a page at its top, and comes back to where another was left', async () => {
    const { page, complaints, close } = await enter('/')
    const boat = page.getByRole('main').locator('a[href^="/boats/"]')
    await boat.nth(8).waitFor(SOON)
    await boat.nth(8).scrollIntoViewIfNeeded()
    // A click may scroll once more before it falls.
    const clicked = page.evaluate(
      () => new Promise<number>((fell) => addEventListener('click', () => fell(Math.round(scrollY)), { once: true })),
    )
    await boat.nth(8).click()
    const before = await clicked
    expect(before).toBeGreaterThan(0)
    await page.waitForURL('**/boats/**', SOON)
    await page.getByRole('heading', { level: 1 }).waitFor(SOON)
    await expect.poll(() => down(page), SOON).toBe(0)
    await page.goBack()
    await boat.nth(8).waitFor(SOON)
    await expect.poll(() => down(page), SOON).toBe(before)
    expect(complaints).toEqual([])
    await close()
  })

  it('stays where it is when a list is put into another order', async () => {
    const { page, complaints, close } = await enter('/desk', DESK)
    await page.locator('.desk-boat').first().waitFor(SOON)
    const order = page.getByLabel('Order', { exact: true })
    await order.scrollIntoViewIfNeeded()
    await page.evaluate(() => scrollBy({ top: 40, behavior: 'instant' }))
    await expect.poll(() => down(page), SOON).toBeGreaterThan(0)
    const before = await down(page)
    await order.selectOption({ label: 'Boat' })
    await page.waitForURL('**/desk?sort=boat', SOON)
    expect(await down(page)).toBe(before)
    expect(complaints).toEqual([])
    await close()
  })

  it('says so where a page cannot be loaded, and goes on at another address', async () => {
    const { page, close } = await enter('/')
    await page.getByRole('heading', { name: 'Fleet' }).waitFor(SOON)
    await page.route('**/assets/sizing-page*.js', (route) => route.abort())
    await page.evaluate(() => {
      history.pushState(null, '', '/sizing')
      dispatchEvent(new PopStateEvent('popstate'))
    })
    await page.getByRole('alert').waitFor(SOON)
    await page.evaluate(() => history.back())
    await page.getByRole('heading', { name: 'Fleet' }).waitFor(SOON)
    expect(await page.getByRole('alert').count()).toBe(0)
    await close()
  })
})
