import { join } from 'node:path'
import type { Browser, Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { FindingDetail, type FindingItem, FindingPage } from '../../src/contract/findings.js'
import { PontoonPlan } from '../../src/contract/pontoons.js'
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
const TEST_LIMIT_MS = 120_000
const TODAY = new Date().toISOString().slice(0, 10)
/** A page that is fetched on a machine that does other work too. */
const SOON = { timeout: 30_000 }
/** WCAG 2.2, 2.5.5: targets of a finger, in CSS pixels. */
const LEAST_TARGET_PX = 44

describe.skipIf(!isBrowserWanted)('findings and pontoons in a browser', { timeout: TEST_LIMIT_MS }, () => {
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

  async function enter(viewport: { width: number; height: number }, role = 'staff'): Promise<WatchedPage> {
    const watched = await openPage(browser, viewport)
    await watched.page.goto(`${service.address}/sign-in`)
    await watched.page.getByRole('button', { name: `Look as ${role}` }).click()
    await watched.page.getByRole('heading', { name: role === 'owner' ? 'Your boats' : 'Fleet' }).waitFor()
    return watched
  }

  const unsettled = async (): Promise<FindingItem[]> =>
    FindingPage.parse(await service.get('/v1/findings?state=unsettled&limit=1000')).items
  const read = async (id: string) => FindingDetail.parse(await service.get(`/v1/findings/${id}`))

  /** One that is new, dated, and has a check to make. */
  async function findingToWorkOn(): Promise<FindingItem> {
    const found = (await unsettled()).find(
      ({ state, onset, nextCheck, direction }) =>
        state === 'open' && onset !== null && nextCheck !== null && direction === 'fast',
    )
    if (found === undefined) throw new Error('the fleet has no finding to work on')
    return found
  }

  it('lists every finding that is to be settled, each with its direction in words and its likeliest cause', async () => {
    const { page, complaints, close } = await enter(DESK)
    await page.goto(`${service.address}/findings`)
    const items = await unsettled()
    expect(items.length).toBeGreaterThan(3)
    await expect.poll(() => page.locator('.finding-row').count(), SOON).toBe(Math.min(items.length, 25))
    const words = { fast: 'Wastes fast', slow: 'Hardly wastes', other: 'Sign without wear' }
    for (const { id, direction, causes } of items.slice(0, 5)) {
      const row = page.locator('.finding-row').filter({ has: page.locator(`a[href="/findings/${id}"]`) })
      expect(await row.textContent()).toContain(words[direction])
      expect(await row.textContent()).toMatch(/\d+ %/)
      expect(causes[0]?.probability).toBeGreaterThan(0)
    }
    expect(complaints).toEqual([])
    await close()
  })

  it('keeps its filters in the address over a reload and back from a finding', async () => {
    const { page, close } = await enter(PHONE)
    await page.goto(`${service.address}/findings`)
    await page.getByLabel('Direction').selectOption('slow')
    const slow = (await unsettled()).filter(({ direction }) => direction === 'slow').length
    expect(slow).toBeGreaterThan(0)
    await expect.poll(() => page.locator('.finding-row').count(), SOON).toBe(slow)
    expect(page.url()).toContain('direction=slow')
    await page.reload()
    await expect.poll(() => page.locator('.finding-row').count(), SOON).toBe(slow)
    await page.locator('.finding-row a').first().click()
    await page.getByRole('heading', { level: 1 }).waitFor()
    await page.goBack()
    await expect.poll(() => page.locator('.finding-row').count(), SOON).toBe(slow)
    await close()
  })

  it('puts the caution first, lays out the evidence of each cause, and draws when it began', async () => {
    const { page, complaints, close } = await enter(DESK)
    const finding = await findingToWorkOn()
    await page.goto(`${service.address}/findings/${finding.id}`)
    await page.locator('.finding .plot svg .onset').first().waitFor({ state: 'attached' })
    const order = await page
      .locator('.finding')
      .evaluate((place) => [...place.children].map(({ className }) => className))
    expect(order.findIndex((name) => name.includes('caution-stop'))).toBe(1)
    for (const { cause, evidence } of finding.causes.slice(0, 2)) {
      const index = finding.causes.findIndex((each) => each.cause === cause)
      await page.locator('.cause input').nth(index).check()
      const heaviest = evidence.toSorted((a, b) => Math.abs(b.weight) - Math.abs(a.weight))[0]
      await page
        .locator('.balance .piece')
        .filter({ hasText: heaviest?.what ?? '' })
        .waitFor()
    }
    expect(complaints).toEqual([])
    await close()
  })

  it('records a check on a phone: the probabilities move as the service says; then it is resolved and reopened', async () => {
    const { page, complaints, close } = await enter(PHONE)
    const finding = await findingToWorkOn()
    const { outcome, text } = finding.nextCheck?.outcomes[0] ?? { outcome: '', text: '' }
    await page.goto(`${service.address}/findings/${finding.id}`)
    await page.getByRole('button', { name: 'Record this check' }).click()
    await page.getByText('Choose what you found.').waitFor()
    await page.getByRole('radio', { name: text, exact: true }).check()
    await page.getByRole('table', { name: 'What that would make of the causes' }).waitFor()
    expect(await smallTargets(page)).toEqual([])
    await page.getByRole('button', { name: 'Record this check' }).click()
    const moved = page.getByRole('table', { name: 'What the check has made of the causes' })
    await moved.waitFor()
    const after = await read(finding.id)
    expect(after.checks.map((check) => check.outcome)).toEqual([outcome])
    expect(after.state).toBe('checked')
    const top = after.causes[0]?.probability ?? 0
    if (top < 0.99)
      await moved
        .getByText(`${Math.round(top * 100)} %`)
        .first()
        .waitFor()

    await page.getByText('Resolve', { exact: true }).click()
    const form = page.getByRole('form', { name: 'Resolve' })
    await form.getByRole('button').click()
    await form.getByText('Say what was done.').waitFor()
    await form.getByLabel('What was done').fill('New isolator fitted')
    await form.getByLabel('What it was').selectOption('stray-current-shore')
    await form.getByRole('button').click()
    await page.getByRole('heading', { name: 'Reopen' }).waitFor()
    expect((await read(finding.id)).state).toBe('resolved')
    await page.getByLabel('Why').fill('Still fast')
    await page.getByRole('button', { name: 'Reopen this finding' }).click()
    await page.getByText('Record what you found').waitFor()
    expect((await read(finding.id)).state).not.toBe('resolved')
    expect(await page.getByText('New isolator fitted').count()).toBeGreaterThan(0)
    expect(complaints).toEqual([])
    await close()
  })

  it('shows an owner their own in plain words, with nothing to operate, and no plan of the harbour', async () => {
    const { page, complaints, close } = await enter(DESK, 'owner')
    await page.goto(`${service.address}/findings`)
    await page.getByRole('heading', { name: 'Findings' }).waitFor()
    const rows = page.locator('.finding-row')
    await page.locator('.finding-row, h2').first().waitFor()
    expect(await rows.count()).toBeLessThan((await unsettled()).length)
    if ((await rows.count()) > 0) {
      await rows.first().getByRole('link').click()
      await page.getByRole('heading', { name: 'What it may be' }).waitFor()
      expect(await page.locator('form, .balance').count()).toBe(0)
    }
    expect(await page.getByRole('link', { name: 'Plan of the pontoons' }).count()).toBe(0)
    expect(complaints).toEqual([])
    await close()
  })

  it('leads from a boat of the fleet list and from its page to what was found on it', async () => {
    const { page, complaints, close } = await enter(DESK)
    const { boat, id } = await findingToWorkOn()
    const row = page.locator('.fleet-row').filter({ has: page.getByRole('heading', { name: boat ?? '', exact: true }) })
    await row.locator(`a[href="/findings/${id}"]`).waitFor()
    await page.goto(`${service.address}/boats/${encodeURIComponent(boat ?? '')}`)
    await page.locator('.boat .plot svg .onset').first().waitFor({ state: 'attached' })
    await page.locator(`.boat-findings a[href="/findings/${id}"]`).click()
    await page.waitForURL(`**/findings/${id}`)
    expect(complaints).toEqual([])
    await close()
  })

  it('draws every berth once on the plan, and says the same in a table', async () => {
    const { page, complaints, close } = await enter(DESK)
    // What the page itself was told: a fit that runs meanwhile changes the effects.
    const answer = page.waitForResponse((response) => response.url().endsWith('/v1/pontoons/plan'))
    await page.goto(`${service.address}/pontoons`)
    const berths = PontoonPlan.parse(await (await answer).json()).pontoons.flatMap((pontoon) => pontoon.berths)
    await expect.poll(() => page.locator('section.berth').count(), SOON).toBe(berths.length)
    const known = berths.find(({ effect, boats }) => effect !== null && boats.length > 0)
    const cell = page.getByRole('region', { name: `Berth ${known?.berth}`, exact: true })
    const share = Math.exp(known?.effect?.mean ?? 0) - 1
    if (Math.abs(share) >= 0.01) {
      await cell.getByText(`${Math.round(Math.abs(share) * 100)} % ${share > 0 ? 'faster' : 'slower'}`).waitFor()
    }
    await cell.getByRole('link', { name: known?.boats[0] ?? '', exact: true }).waitFor()
    await page.getByRole('radio', { name: 'Table' }).click()
    await expect.poll(() => page.locator('.berth-table th[scope=row]').count(), SOON).toBe(berths.length)
    expect(page.url()).toContain('view=table')
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
      found[name] = [
        ...(await seriousViolations(page)),
        ...(await smallTargets(page)),
        ...(await widerThan(page, viewport.width)),
      ]
      await keepPicture(page, `${name}-${place}-${colorScheme}`)
    }
    await visit('findings', '/findings', '.finding-row')
    await visit('finding', `/findings/${(await findingToWorkOn()).id}`, '.finding .plot svg')
    await visit('pontoons', '/pontoons', '.spine')
    await visit('pontoon-table', '/pontoons?view=table', '.berth-table tbody')
    expect(found).toEqual({ findings: [], finding: [], pontoons: [], 'pontoon-table': [] })
    expect(complaints).toEqual([])
    await close()
  })
})

/** Controls that a wet thumb would miss: smaller than 44 px either way, unless they lie in a larger target. */
async function smallTargets(page: Page): Promise<string[]> {
  const controls: Locator = page.locator(
    'main :is(button, select, summary, .choice, .cause, .segment, a):not(.finding-row a, .caution a), main input:not([type=radio])',
  )
  return controls.evaluateAll(
    (all, least) =>
      all
        .filter((control) => control.checkVisibility())
        .filter((control) => control.getBoundingClientRect().height < least)
        .map((control) => control.outerHTML.slice(0, 120)),
    LEAST_TARGET_PX,
  )
}

async function widerThan(page: Page, width: number): Promise<string[]> {
  const scrolled = await page.evaluate(() => document.documentElement.scrollWidth)
  return scrolled > width ? [`the page is ${scrolled} px wide`] : []
}

/** With SCREENSHOT_FOLDER set, a picture of the page for people to look at. */
async function keepPicture(page: Page, name: string): Promise<void> {
  const folder = process.env.SCREENSHOT_FOLDER
  if (folder) await page.screenshot({ path: join(folder, `${name}.png`), fullPage: true })
}
