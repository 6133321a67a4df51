import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { DESK, isBrowserWanted, launchBrowser, openPage, PHONE } from './browser.js'
import { expectFit } from './expect-fit.js'
import { type RunningService, startServiceWithFleet } from './running-service.js'

if (!isBrowserWanted) console.log('browser tests are skipped: no Chromium was found (set CHROMIUM_PATH)')

const SET_UP_LIMIT_MS = 360_000
const TEST_LIMIT_MS = 120_000
const TODAY = new Date().toISOString().slice(0, 10)
/** A page that is fetched on a machine that does other work too. */
const SOON = { timeout: 30_000 }

describe.skipIf(!isBrowserWanted)('prices and costs', { timeout: TEST_LIMIT_MS }, () => {
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

  it('are entered by a manager, who then reads on a boat’s page what it has cost and will', async () => {
    const { page, complaints, close } = await openPage(browser, DESK)
    await page.request.post(`${service.address}/v1/demo/look-as`, { data: { role: 'manager' } })
    const boats = (await service.get('/v1/boats?limit=1')) as { items: { name: string }[] }
    const boat = `${service.address}/boats/${encodeURIComponent(boats.items[0]!.name)}`
    await page.goto(boat)
    await page.getByRole('link', { name: 'Enter prices' }).click(SOON)
    await page.getByLabel('Currency').fill('eur', SOON)
    await page.getByRole('button', { name: 'Add a price for lifts' }).click()
    const lift = page.getByRole('group', { name: 'price 1' })
    await lift.getByLabel('From').fill('2000-01-01')
    await lift.getByLabel('Price').fill('240,5')
    await page.getByRole('button', { name: 'Add a part' }).click()
    const part = page.getByRole('group', { name: 'price 2' })
    await part.getByLabel('From').fill('2000-01-01')
    await part.getByLabel('Price').fill('thirty')
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByText('A number with two decimals at most.').waitFor(SOON)
    await part.getByLabel('Price').fill('30')
    await expectFit(page)
    await page.setViewportSize(PHONE)
    await expectFit(page)
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Saved.').waitFor(SOON)

    await page.goto(boat)
    const panel = page.getByRole('region', { name: 'Costs' })
    await panel.getByText('Item by item').first().click(SOON)
    const costs = (await service.get(`/v1/boats/${encodeURIComponent(boats.items[0]!.name)}/costs`)) as {
      soFar: { total: number; lines: unknown[] }
    }
    const said = new Intl.NumberFormat('en-GB', { style: 'currency', currency: 'EUR' }).format(costs.soFar.total)
    await panel.getByText(said, { exact: true }).waitFor(SOON)
    expect(await panel.locator('.cost-lines').first().locator('li').count()).toBe(costs.soFar.lines.length)
    await expectFit(page)
    await page.setViewportSize(DESK)
    await expectFit(page)
    expect(complaints).toEqual([])
    await close()
  })
})
