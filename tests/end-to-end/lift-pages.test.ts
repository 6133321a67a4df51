import { gzipSync } from 'node:zlib'
import type { Browser, Response } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { DESK, isBrowserWanted, launchBrowser, openPage, PHONE, seriousViolations } from './browser.js'
import { type BoatToLift, boatsToLift } from './lift-boats.js'
import { type RunningService, startServiceWithFleet } from './running-service.js'

if (!isBrowserWanted) console.log('browser tests are skipped: no Chromium was found (set CHROMIUM_PATH)')

const SET_UP_LIMIT_MS = 360_000
const TEST_LIMIT_MS = 180_000
const TODAY = new Date().toISOString().slice(0, 10)
const LARGEST_FIRST_LOAD_BYTES = 200_000

describe.skipIf(!isBrowserWanted)('the pages of the lift', { timeout: TEST_LIMIT_MS }, () => {
  let browser: Browser
  let service: RunningService
  let boats: BoatToLift[]

  beforeAll(async () => {
    browser = await launchBrowser()
    service = await startServiceWithFleet(TODAY)
    boats = await boatsToLift(service, TODAY)
    for (const { name } of boats.slice(0, 2)) {
      await service.post(`/v1/boats/${encodeURIComponent(name)}/haul-outs`, { hauledOn: TODAY, planned: true })
    }
  }, SET_UP_LIMIT_MS)

  afterAll(async () => {
    await browser?.close()
    await service?.stop()
  }, SET_UP_LIMIT_MS)

  it.each(['en-GB', 'de-DE', 'fr-FR', 'es-ES'])(
    'loads its first page in under 200 kB, compressed, in %s',
    async (locale) => {
      const { page, close } = await openPage(browser, PHONE, locale)
      const origin = { origin: service.address }
      await page.request.post(`${service.address}/v1/demo/look-as`, { data: { role: 'staff' }, headers: origin })
      const loaded: Response[] = []
      page.on('response', (response) => loaded.push(response))
      await page.goto(`${service.address}/lift`)
      await page.locator('.lift-row').first().waitFor()
      // What is loaded ahead comes after the list stands; data of the fleet are not of the app.
      const ofTheApp = loaded.filter((response) => !new URL(response.url()).pathname.startsWith('/v1/'))
      const sizes = await Promise.all(ofTheApp.map(async (response) => gzipSync(await response.body()).length))
      const total = sizes.reduce((sum, size) => sum + size, 0)
      console.log(`first page at the lift in ${locale}: ${ofTheApp.length} files, ${total} bytes by gzip`)
      expect(ofTheApp.length).toBeGreaterThan(5)
      expect(total).toBeLessThan(LARGEST_FIRST_LOAD_BYTES)
      await close()
    },
  )

  it.each([
    ['phone', PHONE, 'light'],
    ['phone', PHONE, 'dark'],
    ['desk', DESK, 'light'],
    ['desk', DESK, 'dark'],
  ] as const)('has no serious violation of accessibility on a %s (%o, %s)', async (_place, viewport, colorScheme) => {
    const boat = boats.find(({ anodes }) => anodes.length > 1)
    const { page, complaints, close } = await openPage(browser, viewport)
    await page.emulateMedia({ colorScheme })
    await page.goto(`${service.address}/sign-in`)
    await page.getByRole('button', { name: 'Look as staff' }).click()
    await page.getByRole('heading', { name: 'Fleet' }).waitFor()
    const at = `/lift/${encodeURIComponent(boat?.name ?? '')}`
    const found: Record<string, string[]> = {}
    const visit = async (path: string, ready: string) => {
      await page.goto(service.address + path)
      await page.locator(ready).first().waitFor()
      const wide = await page.evaluate(() => document.documentElement.scrollWidth)
      found[path] = [...(await seriousViolations(page)), ...(wide > viewport.width ? [`${wide} px wide`] : [])]
    }
    await visit('/lift', '.lift-row')
    await visit(at, '.badge')
    await visit(`${at}/anodes/${encodeURIComponent(boat?.anodes[0]?.view.name ?? '')}`, '.keypad')
    await page.locator('.measuring .segment', { hasText: 'Eye' }).click()
    await page.locator('.eye-choice').nth(1).click()
    found.eye = await seriousViolations(page)
    await visit(`${at}/summary`, '.read-out')
    await visit('/lift/outbox', '.lift-page p')
    expect(Object.entries(found).filter(([, problems]) => problems.length > 0)).toEqual([])
    expect(complaints).toEqual([])
    await close()
  })
})
