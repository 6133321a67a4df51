import { readFile } from 'node:fs/promises'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { DepletionPage, DeskBoatPage } from '../../src/contract/desk.js'
import { PartsList } from '../../src/contract/desk-plan.js'
import { HaulOutPage } from '../../src/contract/haul-outs.js'
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

const SET_UP_LIMIT_MS = 360_000
const TEST_LIMIT_MS = 180_000
const TODAY = new Date().toISOString().slice(0, 10)
/** A page that is fetched on a machine that does other work too. */
const SOON = { timeout: 30_000 }
/** WCAG 2.2, 2.5.5: targets of a finger, in CSS pixels. */
const LEAST_TARGET_PX = 44
const TABS = ['fleet', 'calendar', 'depletion', 'compare', 'plan', 'parts'] as const
/** What a tab shows once its answer is there. */
const SHOWN = {
  fleet: '.desk-fleet .desk-boat',
  calendar: '.desk-calendar tbody tr',
  depletion: '.strip',
  compare: '.desk-compare tbody tr',
  plan: '.desk-day',
  parts: '.desk-order',
} as const

const inDays = (days: number) => new Date(Date.parse(TODAY) + days * 86_400_000).toISOString().slice(0, 10)

describe.skipIf(!isBrowserWanted)('the fleet desk in a browser', { timeout: TEST_LIMIT_MS }, () => {
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

  async function enter(viewport: { width: number; height: number }, query = ''): Promise<WatchedPage> {
    const watched = await openPage(browser, viewport)
    // Without the pages of the sign-in: an address has only so many requests a minute.
    await watched.page.request.post(`${service.address}/v1/demo/look-as`, { data: { role: 'manager' } })
    await watched.page.goto(`${service.address}/desk${query}`)
    await watched.page.getByRole('heading', { name: 'Fleet desk' }).waitFor()
    return watched
  }

  const boats = async (query: string) => DeskBoatPage.parse(await service.get(`/v1/desk/boats?limit=2000&${query}`))
  const sum = (page: Page) => page.locator('.desk-sum [role="status"]').first()

  it('lists the fleet as the service orders it, only the rows that show, and the last ones once scrolled there', async () => {
    const { page, complaints, close } = await enter(DESK)
    const { items } = await boats('')
    expect(items.length).toBeGreaterThan(30)
    await expect.poll(() => sum(page).textContent(), SOON).toBe(`${items.length} boats`)
    const rows = page.locator('.desk-rows .desk-row')
    await expect.poll(() => rows.count(), SOON).toBeGreaterThan(5)
    expect(await rows.count()).toBeLessThan(items.length)
    expect(await rows.first().textContent()).toContain(items[0]!.boat)
    expect(await rows.first().getAttribute('aria-setsize')).toBe(String(items.length))
    await page.keyboard.press('End')
    await page
      .locator('.desk-row')
      .filter({ hasText: items.at(-1)!.boat })
      .waitFor()
    expect(complaints).toEqual([])
    await close()
  })

  it('keeps its filters in the address, and a view of them for the next time', async () => {
    const { page, complaints, close } = await enter(DESK)
    await page.getByLabel('Alloy').selectOption('aluminium')
    await page.getByLabel('Risk above').selectOption('0.5')
    const { total, boats: all } = await boats('alloy=aluminium&riskAbove=0.5')
    expect(total).toBeGreaterThan(0)
    await expect.poll(() => sum(page).textContent(), SOON).toBe(`${total} of ${all} boats`)
    expect(page.url()).toContain('alloy=aluminium')
    await page.reload()
    await expect.poll(() => sum(page).textContent(), SOON).toBe(`${total} of ${all} boats`)

    await page.getByText('Saved views').click()
    await page.getByLabel('Name of this view').fill('Aluminium at risk')
    await page.getByRole('button', { name: 'Save this view' }).click()
    await page.getByRole('button', { name: 'Aluminium at risk' }).waitFor()
    await page.getByLabel('Change Aluminium at risk').click()
    await page.getByRole('button', { name: 'Open this one first' }).click()
    await page.getByText('opens first').waitFor()
    await page.goto(`${service.address}/desk`)
    await expect.poll(() => sum(page).textContent(), SOON).toBe(`${total} of ${all} boats`)
    await page.getByText('Saved views').click()
    await page.getByLabel('Change Aluminium at risk').click()
    await page.getByRole('button', { name: 'Delete' }).click()
    await page.getByText('None yet.').waitFor()
    expect(complaints).toEqual([])
    await close()
  })

  it('finds a boat while it is typed, says where none matches, and leads back to all', async () => {
    const { page, close } = await enter(PHONE)
    const { items } = await boats('sort=boat')
    const wanted = items[3]!.boat
    await page.getByLabel('Find a boat, berth or anode').pressSequentially(wanted)
    await expect.poll(() => page.locator('.desk-rows .desk-row').count(), SOON).toBe(1)
    await page.getByLabel('Find a boat, berth or anode').fill('no such boat anywhere')
    await page.getByRole('button', { name: 'Show all boats' }).click()
    await expect.poll(() => sum(page).textContent(), SOON).toBe(`${items.length} boats`)
    expect(await page.getByLabel('Find a boat, berth or anode').inputValue()).toBe('')
    await close()
  })

  it('plans lifts: each boat once, on a day or told why not, and the file has them all', async () => {
    const { page, complaints, close } = await enter(DESK, '?tab=plan')
    await page.getByLabel('First day').fill(inDays(7))
    await page.getByLabel('Last day').fill(inDays(175))
    await page.getByLabel('Boats a day').fill('4')
    await page.getByLabel('Until').fill(inDays(20))
    await page.getByRole('button', { name: 'Make the plan' }).click()
    await page.getByText('an end not before the last of them').waitFor()
    await page.getByLabel('Until').fill(inDays(200))
    await page.getByRole('button', { name: 'Make the plan' }).click()
    await page.locator('.desk-plan-sum').waitFor()
    const days = page.locator('.desk-day')
    expect(await days.count()).toBe(13)
    for (let index = 0; index < 13; index++) expect(await days.nth(index).locator('li').count()).toBeLessThanOrEqual(4)
    const lifts = await page.locator('.desk-day li').count()
    expect(lifts).toBeGreaterThan(0)
    expect(await page.locator('.desk-plan-sum').textContent()).toContain(`${lifts} lifts`)
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save as CSV' }).click(),
    ])
    const lines = (await readFile(await download.path(), 'utf8')).trim().split('\r\n')
    expect(lines.filter((line) => /^\d{4}-/.test(line)).length).toBe(lifts)
    await page.reload()
    await expect.poll(() => page.locator('.desk-day li').count(), SOON).toBe(lifts)
    expect(complaints).toEqual([])
    await close()
  })

  it('takes the plan over into the calendar without who was left out, and out again', async () => {
    const path = `?tab=plan&plan-from=${inDays(7)}&plan-to=${inDays(90)}&plan-until=${inDays(120)}`
    const { page, complaints, close } = await enter(DESK, path)
    const planned = async () => {
      const query = new URLSearchParams({ from: inDays(7), to: inDays(90), limit: '200' })
      const { items } = HaulOutPage.parse(await service.get(`/v1/haul-outs?${query}`))
      return items.map(({ boat, hauledOn }) => `${hauledOn} ${boat}`).toSorted()
    }
    await page.locator('.desk-day li').first().waitFor(SOON)
    const before = await planned()
    const first = page.locator('.desk-day li').first()
    const leftOut = (await first.getByRole('link').textContent()) ?? ''
    const lifts = await page.locator('.desk-day li').count()
    await page.getByRole('button', { name: `Leave out ${leftOut}` }).click()
    const accept = page.locator('.desk-accept')
    await accept.getByRole('button', { name: `Put ${lifts - 1} lift` }).click()
    await accept.getByText(/in the calendar now/).waitFor(SOON)
    const added = (await planned()).filter((lift) => !before.includes(lift))
    expect(added.length).toBeGreaterThan(0)
    expect(added.some((lift) => lift.endsWith(` ${leftOut}`))).toBe(false)
    expect(await accept.textContent()).toContain(`${added.length} lift`)
    await accept.getByRole('button', { name: 'Take them out again' }).click()
    await accept.getByText(/taken out again/).waitFor(SOON)
    expect(await planned()).toEqual(before)
    expect(complaints).toEqual([])
    await close()
  })

  it('lists the parts of the lifts in the calendar, and prints them without what is pressed', async () => {
    const { page, close } = await enter(DESK, '?tab=parts')
    const { parts } = PartsList.parse(await service.get('/v1/desk/parts'))
    expect(parts.length).toBeGreaterThan(0)
    const rows = page.locator('.desk-order tbody tr')
    await expect.poll(() => rows.count(), SOON).toBe(parts.length)
    expect(await rows.first().textContent()).toContain(`${parts[0]!.count} ×`)
    await page.emulateMedia({ media: 'print' })
    expect(await page.getByRole('button', { name: 'Print' }).isVisible()).toBe(false)
    expect(await page.locator('.topbar').isVisible()).toBe(false)
    expect(await rows.first().isVisible()).toBe(true)
    await close()
  })

  it('shows depletion as bars and the same in figures', async () => {
    const { page, close } = await enter(DESK, '?tab=depletion')
    const { items } = DepletionPage.parse(await service.get('/v1/desk/depletion?limit=1'))
    await page.locator('.strip svg').first().waitFor()
    expect(await page.locator('.strip svg').first().getAttribute('aria-label')).toContain(items[0]!.boat)
    await page.getByLabel('Show as').selectOption('figures')
    const cells = page.locator('.desk-figures tbody tr:not(.desk-spacer)').first().locator('td')
    await expect.poll(() => cells.count(), SOON).toBe(24)
    const told = (await cells.allTextContents()).map((text) => text.replace('!', ''))
    expect(told).toEqual(items[0]!.consumed.map((share) => (share === null ? '–' : String(Math.round(share * 100)))))
    await close()
  })

  it.each([
    ['a desk', DESK],
    ['a phone', PHONE],
  ])('has no serious fault for those who read by keyboard or ear, in light and dark, on %s', async (_, viewport) => {
    const plan = `?plan-from=${inDays(7)}&plan-to=${inDays(90)}&plan-until=${inDays(120)}`
    const { page, complaints, close } = await enter(viewport, plan)
    for (const tab of TABS) {
      // By its link, as people go: the address keeps the plan that was asked for.
      await page.locator(`.desk-tabs a[href*="tab=${tab}"]`).click()
      await page.locator(`.desk-tabs a[href*="tab=${tab}"][aria-current="page"]`).waitFor()
      await page.locator(SHOWN[tab]).first().waitFor()
      for (const colorScheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme })
        expect(await seriousViolations(page), `${tab} in ${colorScheme}`).toEqual([])
      }
      const isWider = await page.evaluate(() => document.documentElement.scrollWidth > window.innerWidth)
      expect(isWider, tab).toBe(false)
      expect(await smallTargets(page), tab).toEqual([])
    }
    expect(complaints).toEqual([])
    await close()
  })
})

/** Buttons, fields and links in lists of their own that a finger would miss; links within a line of text are exempt. */
async function smallTargets(page: Page): Promise<string[]> {
  return page.evaluate((least) => {
    const targets = document.querySelectorAll('.desk button, .desk select, .desk input, .desk summary, .desk-tabs a')
    return [...targets]
      .filter((target) => target.checkVisibility() && target.getBoundingClientRect().height < least)
      .map((target) => target.outerHTML.slice(0, 120))
  }, LEAST_TARGET_PX)
}
