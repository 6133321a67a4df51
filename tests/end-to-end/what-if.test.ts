import { join } from 'node:path'
import type { Browser, Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ForecastPage } from '../../src/contract/forecasts.js'
import { WhatIfAnswer } from '../../src/contract/what-if.js'
import { DESK, isBrowserWanted, launchBrowser, openPage, PHONE, seriousViolations } from './browser.js'
import { type RunningService, startServiceWithFleet } from './running-service.js'

const SET_UP_LIMIT_MS = 360_000
const TEST_LIMIT_MS = 240_000
const TODAY = new Date().toISOString().slice(0, 10)
/** WCAG 2.2, 2.5.5: targets of a finger, in CSS pixels. */
const LEAST_TARGET_PX = 44

const dayIn = (days: number) => new Date(Date.parse(TODAY) + days * 86_400_000).toISOString().slice(0, 10)
/** As British English writes a date; the app's own words are made elsewhere. */
const britishDate = (day: string) =>
  new Date(`${day}T12:00:00Z`).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' })

describe.skipIf(!isBrowserWanted)('a plan for a boat, in a browser', { timeout: TEST_LIMIT_MS }, () => {
  let browser: Browser
  let service: RunningService
  let boat: string

  beforeAll(async () => {
    browser = await launchBrowser()
    service = await startServiceWithFleet(TODAY)
    const { items } = ForecastPage.parse(await service.get('/v1/forecasts?limit=1000'))
    // One whose threshold lies far enough ahead for a season ashore to move it, and near enough to have a date.
    boat = items.find(({ replace }) => (replace.p10 ?? '') > dayIn(60) && replace.p90 !== null)?.boat ?? ''
  }, SET_UP_LIMIT_MS)

  afterAll(async () => {
    await browser?.close()
    await service?.stop()
  }, SET_UP_LIMIT_MS)

  async function openPlan(page: Page): Promise<Locator> {
    await page.goto(`${service.address}/sign-in`)
    await page.getByRole('button', { name: 'Look as staff' }).click()
    await page.getByRole('heading', { name: 'Fleet' }).waitFor()
    await page.goto(`${service.address}/boats/${encodeURIComponent(boat)}`)
    const panel = page.locator('details').filter({ has: page.getByRole('heading', { name: 'What if …' }) })
    await panel.locator('summary').focus()
    await page.keyboard.press('Enter')
    return panel
  }

  async function answerTo(page: Page, act: () => Promise<void>) {
    const path = `/v1/boats/${encodeURIComponent(boat)}/what-if`
    const answer = page.waitForResponse((response) => response.url().endsWith(path), { timeout: TEST_LIMIT_MS })
    await act()
    return answer
  }

  it.each([
    ['phone', PHONE, 'light'],
    ['desk', DESK, 'dark'],
  ] as const)(
    'shows the dates of a season ashore beside those of today on a %s',
    async (place, viewport, colorScheme) => {
      const { page, complaints, close } = await openPage(browser, viewport)
      await page.emulateMedia({ colorScheme })
      const panel = await openPlan(page)
      await panel.getByRole('button', { name: 'Add a lift' }).press('Enter')
      await panel.getByLabel('Lifted on').fill(dayIn(200))
      const ask = panel.getByRole('button', { name: 'Show the dates of this plan' })
      const answer = await answerTo(page, () => ask.press('Enter'))
      const { anodes } = WhatIfAnswer.parse(await answer.json())
      expect(anodes.length).toBeGreaterThan(0)
      for (const { anode, now, planned } of anodes) {
        const table = panel.getByRole('table', { name: new RegExp(`^${anode},`) })
        const dates = table.getByRole('row', { name: 'Due around' }).getByRole('cell')
        for (const [cell, { replace, asOf }] of [now, planned].entries()) {
          if (replace.p50 === null || (replace.p90 ?? '9') <= asOf) continue
          expect(await dates.nth(cell).textContent()).toContain(britishDate(replace.p50))
        }
      }
      const moved = anodes.filter(({ now, planned }) => (planned.replace.p50 ?? '9') > (now.replace.p50 ?? '9'))
      expect(moved.length).toBeGreaterThan(0)
      expect(await panel.getByText(/\d (days?|months|years) later$/).count()).toBeGreaterThan(0)
      expect(await smallTargets(panel)).toEqual([])
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(viewport.width)
      expect(await seriousViolations(page)).toEqual([])
      expect(complaints).toEqual([])
      const folder = process.env.SCREENSHOT_FOLDER
      if (folder) await page.screenshot({ path: join(folder, `what-if-${place}-${colorScheme}.png`), fullPage: true })
      await close()
    },
  )

  it('shows what the service refuses at its field, which has the focus', async () => {
    const { page, close } = await openPage(browser, PHONE)
    const panel = await openPlan(page)
    const from = panel.getByLabel('From')
    await from.fill(dayIn(-30))
    const ask = panel.getByRole('button', { name: 'Show the dates of this plan' })
    const refusal = await answerTo(page, () => ask.press('Enter'))
    expect(refusal.status()).toBe(422)
    await panel.getByText(/lies behind/).waitFor()
    await expect.poll(() => from.evaluate((field) => field === document.activeElement)).toBe(true)
    expect(await from.getAttribute('aria-invalid')).toBe('true')
    await from.fill(TODAY)
    expect(await from.getAttribute('aria-invalid')).toBe('false')
    await close()
  })

  it('reads masses off a depletion curve with the arrow keys and with the pointer', async () => {
    const { page, complaints, close } = await openPage(browser, DESK)
    await openPlan(page)
    const day = page.getByRole('slider', { name: 'Day to read on the curve' }).first()
    const reading = page.locator('.reading').first()
    const shown = () => reading.textContent()
    await day.focus()
    const atToday = await shown()
    expect(atToday).toMatch(/^\d+ \w+ \d{4}: .* 8 times in 10 /)
    await page.keyboard.press('ArrowLeft')
    const earlier = await shown()
    expect(earlier).not.toBe(atToday)
    await page.keyboard.press('ArrowRight')
    expect(await shown()).toBe(atToday)
    await page
      .locator('.reader')
      .first()
      .hover({ position: { x: 60, y: 100 } })
    await expect.poll(shown).not.toBe(atToday)
    expect(complaints).toEqual([])
    await close()
  })
})

/** Controls that a wet thumb would miss. */
async function smallTargets(panel: Locator): Promise<string[]> {
  const small: string[] = []
  for (const control of await panel.locator('button, select, input, summary').all()) {
    const box = await control.boundingBox()
    if (box && Math.min(box.width, box.height) < LEAST_TARGET_PX) small.push(await control.innerHTML())
  }
  return small
}
