import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { FittingPage } from '../../src/contract/fittings.js'
import { GalvanicAuditView } from '../../src/contract/galvanic.js'
import { ReferenceIndex, ReferenceTable } from '../../src/contract/reference.js'
import {
  DESK,
  isBrowserWanted,
  launchBrowser,
  openPage,
  PHONE,
  seriousViolations,
  type WatchedPage,
} from './browser.js'
import { type RunningService, startServiceWithFleet } from './running-service.js'

if (!isBrowserWanted) console.log('browser tests are skipped: no Chromium was found (set CHROMIUM_PATH)')

const SET_UP_LIMIT_MS = 360_000
const TEST_LIMIT_MS = 120_000
const TODAY = new Date().toISOString().slice(0, 10)

describe.skipIf(!isBrowserWanted)('metals in a browser', { timeout: TEST_LIMIT_MS }, () => {
  let browser: Browser
  let service: RunningService
  /** A boat of which at least two metals are joined. */
  let audit: GalvanicAuditView

  beforeAll(async () => {
    browser = await launchBrowser()
    service = await startServiceWithFleet(TODAY)
    audit = await auditWithPairs()
  }, SET_UP_LIMIT_MS)

  afterAll(async () => {
    await browser?.close()
    await service?.stop()
  }, SET_UP_LIMIT_MS)

  async function auditWithPairs(): Promise<GalvanicAuditView> {
    const { items } = (await service.get('/v1/boats?limit=200')) as { items: { name: string }[] }
    for (const { name } of items) {
      const path = `/v1/boats/${encodeURIComponent(name)}/galvanic-audit`
      const found = GalvanicAuditView.parse(await service.get(path))
      if (found.pairs.length > 1 && found.protection.some(({ isFitted }) => isFitted)) return found
    }
    throw new Error('no boat of the fleet has two pairs of metals')
  }

  async function enter(viewport: { width: number; height: number }): Promise<WatchedPage> {
    const watched = await openPage(browser, viewport)
    await watched.page.goto(`${service.address}/`)
    await watched.page.getByRole('button', { name: 'Look as staff' }).click()
    await watched.page.getByRole('heading', { name: 'Fleet' }).waitFor()
    return watched
  }

  it('draws the whole series with the metals of a boat marked, and tells its pairs as the service does', async () => {
    const { page, complaints, close } = await enter(DESK)
    await page.goto(`${service.address}/boats/${encodeURIComponent(audit.boat)}`)
    await page.getByRole('link', { name: 'Metals and pairs' }).click()
    await page.getByRole('heading', { name: `Metals of ${audit.boat}` }).waitFor()
    const drawing = page.getByRole('img', { name: /^Galvanic series of 47 metals/ })
    await drawing.waitFor()
    // 47 rows of the series: those of metals without their film are drawn as outlines.
    const bars = drawing.locator('.series-bars rect, .series-active rect')
    await expect.poll(() => bars.count()).toBe(47)
    const metals = new Set(audit.metals.map(({ metal }) => metal))
    expect(await drawing.locator('.series-marks text').count()).toBe(metals.size)
    const { items } = FittingPage.parse(
      await service.get(`/v1/boats/${encodeURIComponent(audit.boat)}/fittings?limit=200`),
    )
    const known = new Set(items.flatMap(({ metal }) => metal ?? []))
    expect(metals).toEqual(known)
    expect(await page.locator('.pair').count()).toBe(audit.pairs.length)
    for (const { reason } of audit.pairs) await page.getByText(reason, { exact: true }).first().waitFor()
    for (const { reason } of audit.protection) await page.getByText(reason).first().waitFor()
    expect(complaints).toEqual([])
    await close()
  })

  it('is read against the other electrode, and as a table, by the keyboard', async () => {
    const { page, close } = await enter(DESK)
    await page.goto(`${service.address}/boats/${encodeURIComponent(audit.boat)}/galvanic`)
    await page.getByText('The same as a table').press('Enter')
    const zinc = page.getByRole('row', { name: /^Zinc / })
    // Australasian Corrosion Association: zinc −1.03 to −0.98 V calomel, which is 0.009 V less against silver/silver chloride.
    expect(await zinc.getByRole('cell').first().textContent()).toBe('−1.04')
    await page.getByRole('radio', { name: 'Calomel' }).focus()
    await page.keyboard.press('Space')
    await expect.poll(() => zinc.getByRole('cell').first().textContent()).toBe('−1.03')
    await close()
  })

  it('checks any metals on a phone, with the answer of the calculator', async () => {
    const { page, complaints, close } = await enter(PHONE)
    await page.getByRole('button', { name: 'Menu' }).click()
    await page.getByRole('link', { name: 'Metals', exact: true }).click()
    await page.getByRole('button', { name: 'Remove metal 3' }).click()
    await page.getByLabel('Metal 1', { exact: true }).selectOption('graphite')
    await page.getByLabel('Metal 2', { exact: true }).selectOption('aluminium-alloy')
    await page.getByRole('textbox', { name: 'Area in the water' }).first().fill('2000')
    await page.getByRole('textbox', { name: 'Area in the water' }).last().fill('12,5')
    const { pairs } = await service.calculate('couple', {
      metals: [
        { metal: 'graphite', areaCm2: 2000 },
        { metal: 'aluminium-alloy', areaCm2: 12.5 },
      ],
      water: 'salt',
    })
    const [{ reason }] = pairs as [{ reason: string }]
    await page.getByText(reason, { exact: true }).waitFor()
    await page.getByText('1 pair: 1 severe.').waitFor()
    await page.getByRole('textbox', { name: 'Area in the water' }).last().fill('none')
    await page.getByText(/^This must be an area/).waitFor()
    expect(complaints).toEqual([])
    await close()
  })

  it('opens the menu of a phone by the keyboard, and closes it by Escape and by a press elsewhere', async () => {
    const { page, close } = await enter(PHONE)
    const button = page.getByRole('button', { name: 'Menu' })
    const link = page.getByRole('link', { name: 'Reference' })
    expect(await link.isVisible()).toBe(false)
    await button.press('Enter')
    await link.waitFor()
    await link.focus()
    await page.keyboard.press('Escape')
    await link.waitFor({ state: 'hidden' })
    expect(await button.evaluate((element) => element === document.activeElement)).toBe(true)
    await button.click()
    await link.waitFor()
    await page.getByRole('heading', { name: 'Fleet' }).click({ position: { x: 4, y: 4 } })
    await link.waitFor({ state: 'hidden' })
    await close()
  })

  it('shows every reference table with the source of each row', async () => {
    const { items } = ReferenceIndex.parse(await service.get('/v1/reference'))
    const table = ReferenceTable.parse(await service.get('/v1/reference/protection-criteria'))
    const { page, complaints, close } = await enter(PHONE)
    await page.goto(`${service.address}/reference`)
    for (const { title } of items) await page.getByRole('link', { name: title, exact: true }).waitFor()
    await page.getByRole('link', { name: table.title, exact: true }).click()
    await page.getByRole('heading', { name: table.title }).waitFor()
    await expect.poll(() => page.locator('.reference-source').count()).toBe(table.rows)
    await page.setViewportSize(DESK)
    await page.getByRole('columnheader', { name: 'Protected at or below' }).waitFor()
    await page.getByRole('link', { name: 'Source 1', exact: true }).first().click()
    expect(page.url()).toContain(`#source-${table.sources[0]?.key}`)
    expect(complaints).toEqual([])
    await close()
  })

  // Serious and critical rules of axe-core 4, which tests WCAG 2 A and AA.
  it.each([
    ['phone', PHONE, 'light'],
    ['phone', PHONE, 'dark'],
    ['desk', DESK, 'light'],
    ['desk', DESK, 'dark'],
  ] as const)('has no serious violation of accessibility on a %s (%o, %s)', async (place, viewport, colorScheme) => {
    const { page, complaints, close } = await enter(viewport)
    await page.emulateMedia({ colorScheme })
    const found: Record<string, string[]> = {}
    const visit = async (name: string, path: string, ready: string) => {
      await page.goto(service.address + path)
      await page.locator(ready).first().waitFor()
      if (name === 'menu' && viewport === PHONE) await page.getByRole('button', { name: 'Menu' }).click()
      found[name] = [...(await seriousViolations(page)), ...(await tooWide(page, viewport.width))]
      await keepPicture(page, `${name}-${place}-${colorScheme}`)
    }
    await visit('metals', `/boats/${encodeURIComponent(audit.boat)}/galvanic`, '.series-bars rect')
    await visit('couples', '/galvanic', '.series-bars rect')
    await visit('reference', '/reference', '.reference-list a')
    await visit('series', '/reference/galvanic-series', '.reference-source')
    await visit('alloys', '/reference/anode-alloys', '.reference-source')
    await visit('menu', '/reference', '.reference-list a')
    expect(found).toEqual({ metals: [], couples: [], reference: [], series: [], alloys: [], menu: [] })
    expect(complaints).toEqual([])
    await close()
  })
})

async function tooWide(page: Page, width: number): Promise<string[]> {
  const scrolled = await page.evaluate(() => document.documentElement.scrollWidth)
  return scrolled > width ? [`the page is ${scrolled} px wide`] : []
}

/** With SCREENSHOT_FOLDER set, a picture of the page for people to look at. */
async function keepPicture(page: Page, name: string): Promise<void> {
  const folder = process.env.SCREENSHOT_FOLDER
  if (folder) await page.screenshot({ path: join(folder, `${name}.png`) })
}
