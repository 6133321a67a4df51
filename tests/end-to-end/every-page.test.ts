import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { LANGUAGES } from '../../src/messages/languages.js'
import { type Picture, picturesOf } from '../pictures/pages.js'
import { isBrowserWanted, launchBrowser, openPage, PHONE, seriousViolations } from './browser.js'
import { ENGLISH_PHRASES, englishIn, phrasesOf } from './english-phrases.js'
import { type RunningService, startServiceWithFleet } from './running-service.js'

if (!isBrowserWanted) console.log('browser tests are skipped: no Chromium was found (set CHROMIUM_PATH)')

const SET_UP_LIMIT_MS = 360_000
const TEST_LIMIT_MS = 300_000
const SOON = { timeout: 30_000 }
const TODAY = new Date().toISOString().slice(0, 10)

describe.skipIf(!isBrowserWanted)('every page', { timeout: TEST_LIMIT_MS }, () => {
  let browser: Browser
  let service: RunningService
  let pages: readonly Picture[]

  beforeAll(async () => {
    browser = await launchBrowser()
    service = await startServiceWithFleet(TODAY)
    pages = await picturesOf(service.address)
  }, SET_UP_LIMIT_MS)

  afterAll(async () => {
    await browser?.close()
    await service?.stop()
  }, SET_UP_LIMIT_MS)

  async function show(page: Page, { path, ready, role }: Picture): Promise<void> {
    if (role) {
      const origin = { origin: service.address }
      await page.request.post(`${service.address}/v1/demo/look-as`, { data: { role }, headers: origin })
    }
    await page.goto(service.address + path)
    await page.locator(ready).first().waitFor(SOON)
    await page.waitForLoadState('networkidle')
  }

  it.each(LANGUAGES.filter((language) => language !== 'en'))(
    'speaks %s and nothing else on a phone, and fits there',
    async (language) => {
      const own = new Set(phrasesOf(language))
      const foreign = ENGLISH_PHRASES.filter((phrase) => !own.has(phrase))
      const { page, complaints, close } = await openPage(browser, PHONE, language)
      const found: string[] = []
      for (const shown of pages) {
        await show(page, shown)
        expect(await page.locator('html').getAttribute('lang'), shown.name).toBe(language)
        const text = await page.locator('body').innerText()
        found.push(...englishIn(text, foreign).map((each) => `${shown.name}: ${each}`))
        const wider = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)
        if (wider > 0) found.push(`${shown.name}: ${wider} px wider than the phone`)
        found.push(...(await seriousViolations(page)).map((violation) => `${shown.name}: ${JSON.stringify(violation)}`))
      }
      expect(found).toEqual([])
      expect(complaints).toEqual([])
      await close()
    },
  )
})
