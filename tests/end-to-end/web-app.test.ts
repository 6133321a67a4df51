import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import sharp from 'sharp'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { AnodePage } from '../../src/contract/anodes.js'
import { DepletionView, type ForecastItem, ForecastPage } from '../../src/contract/forecasts.js'
import { ModelView } from '../../src/contract/model.js'
import { RecordQuestionsView } from '../../src/contract/record-questions.js'
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
const NEVER = '9999-12-31'

/** As British English writes a date; the app's own words are made elsewhere. */
const britishDate = (day: string) =>
  new Date(`${day}T12:00:00Z`).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' })

describe.skipIf(!isBrowserWanted)('the web app in a browser', { timeout: TEST_LIMIT_MS }, () => {
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
    await watched.page.goto(`${service.address}/`)
    await watched.page.getByRole('button', { name: `Look as ${role}` }).click()
    await watched.page.getByRole('heading', { name: role === 'owner' ? 'Your boats' : 'Fleet' }).waitFor()
    return watched
  }

  const forecasts = async (): Promise<ForecastItem[]> =>
    ForecastPage.parse(await service.get('/v1/forecasts?limit=1000')).items

  it('lists the fleet by the date its first anode is expected to be due', async () => {
    const { page, complaints, close } = await enter(DESK)
    const shown = await page.locator('.fleet-row h2').allTextContents()
    const first = new Map<string, string>()
    for (const { boat, replace } of await forecasts()) {
      const expected = replace.p50 ?? NEVER
      if (expected < (first.get(boat) ?? '~')) first.set(boat, expected)
    }
    expect(shown.toSorted()).toEqual([...first.keys()].toSorted())
    const dates = shown.map((boat) => first.get(boat))
    expect(dates).toEqual(dates.toSorted())
    expect(complaints).toEqual([])
    await close()
  })

  it('finds a boat by its name and by how soon it is due', async () => {
    const { page, close } = await enter(DESK)
    const items = await forecasts()
    const wanted = items[0]?.boat ?? ''
    await page.getByLabel('Find a boat or berth').fill(wanted.toUpperCase())
    await page.getByText(/^1 of \d+ boats$/).waitFor()
    expect(await page.locator('.fleet-row h2').allTextContents()).toEqual([wanted])
    await page.getByLabel('Find a boat or berth').fill('')
    await page.getByLabel('Due within').selectOption({ label: 'Due already' })
    const due = new Set(items.filter(({ replace, asOf }) => (replace.p50 ?? NEVER) <= asOf).map(({ boat }) => boat))
    await page.getByText(new RegExp(`^${due.size} of \\d+ boats$`)).waitFor()
    expect(page.url()).toContain('within=0')
    await close()
  })

  it('draws each anode of a boat with the weighings and the dates that the service gives', async () => {
    const ahead = (await forecasts()).find(
      ({ replace, asOf, wear }) => (replace.p50 ?? NEVER) > asOf && replace.p95 !== null && wear !== null,
    )
    const path = `/v1/boats/${encodeURIComponent(ahead?.boat ?? '')}/depletion`
    const depletion = DepletionView.parse(await service.get(path))
    const anode = depletion.anodes.find((each) => each.anode === ahead?.anode)
    const { page, complaints, close } = await enter(DESK)
    await page.getByRole('link', { name: ahead?.boat ?? '', exact: true }).click()
    const section = page.getByRole('region', { name: ahead?.anode ?? '', exact: true })
    const drawing = section.getByRole('img', { name: /^Depletion of/ })
    await drawing.waitFor()
    const { p05, p50, p95 } = ahead?.replace ?? {}
    const label = (await drawing.getAttribute('aria-label')) ?? ''
    for (const day of [p05, p50, p95]) expect(label).toContain(britishDate(day ?? NEVER))
    await section
      .getByText(britishDate(p50 ?? NEVER))
      .first()
      .waitFor()
    const weighed = anode?.weighings.length ?? 0
    await section.getByText(weighed === 1 ? '1 weighing' : `${weighed} weighings`, { exact: true }).waitFor()
    expect(await drawing.locator('.weighings circle').count()).toBe(weighed)
    expect(complaints).toEqual([])
    await close()
  })

  it('asks about what cannot be on the record of a boat, though nothing may wear abnormally, as the service does', async () => {
    const boats = [...new Set((await forecasts()).map(({ boat }) => boat))]
    const asked = await Promise.all(
      boats.map(async (boat) =>
        RecordQuestionsView.parse(await service.get(`/v1/boats/${encodeURIComponent(boat)}/questions`)),
      ),
    )
    const [odd, sound] = [asked.find(({ items }) => items.length > 0), asked.find(({ items }) => items.length === 0)]
    const { page, complaints, close } = await enter(PHONE)
    await page.goto(`${service.address}/boats/${encodeURIComponent(odd?.boat ?? '')}`)
    const panel = page.getByRole('region', { name: 'Readings to look at again' })
    await panel.waitFor()
    expect(await panel.getByRole('listitem').count()).toBe(Math.min(5, odd?.items.length ?? 0))
    await panel.getByText(odd?.items[0]?.question.slice(1) ?? '').waitFor()
    await page.goto(`${service.address}/boats/${encodeURIComponent(sound?.boat ?? '')}`)
    await page.getByRole('heading', { name: sound?.boat ?? '', level: 1 }).waitFor()
    await page.waitForLoadState('networkidle')
    expect(await panel.count()).toBe(0)
    expect(complaints).toEqual([])
    await close()
  })

  it('lets an owner see own boats only, and log nothing', async () => {
    const { page, complaints, close } = await enter(DESK, 'owner')
    const shown = await page.locator('.your-boat h2').allTextContents()
    const all = new Set((await forecasts()).map(({ boat }) => boat))
    expect(shown.length).toBeGreaterThan(0)
    expect(shown.length).toBeLessThan(all.size)
    await page.getByRole('link', { name: `Everything about ${shown[0] ?? ''}` }).click()
    await page.getByRole('heading', { name: shown[0] ?? '', level: 1 }).waitFor()
    expect(await page.getByRole('link', { name: 'Log a haul-out' }).count()).toBe(0)
    expect(complaints).toEqual([])
    await close()
  })

  it('logs a haul-out on a phone: a doubt shown at its field, mended, kept over a reload, seen in the list', async () => {
    const { boat, anode, expectedG, tooHeavyG } = await anodeToWeigh()
    const { page, close } = await enter(PHONE)
    await page.getByRole('link', { name: boat, exact: true }).click()
    await page.getByRole('link', { name: 'Log a haul-out' }).click()
    const card = page.getByRole('region', { name: anode, exact: true })
    const mass = card.getByLabel(`Mass of ${anode}`)
    await mass.fill(String(tooHeavyG))
    await card.getByRole('radio', { name: 'Yes' }).check()
    await page.getByRole('button', { name: 'Log this haul-out' }).click()
    await page.getByText('Not logged yet: 1 entry below needs a second look.').waitFor()
    expect(await mass.getAttribute('aria-invalid')).toBe('true')
    await card.getByText(/was the anode replaced\?/).waitFor()
    await card.getByRole('button', { name: 'It is right as typed' }).waitFor()
    expect(await smallTargets(page)).toEqual([])

    await mass.fill(String(expectedG))
    expect(await mass.getAttribute('aria-invalid')).toBe('false')
    await page.reload()
    expect(await mass.inputValue()).toBe(String(expectedG))
    await card
      .getByLabel(`Photos of ${anode}`)
      .setInputFiles({ name: 'a.png', mimeType: 'image/png', buffer: await grey() })
    await card.getByRole('img', { name: 'a.png' }).waitFor()
    await page.getByRole('button', { name: 'Log this haul-out' }).click()
    await page.getByRole('heading', { name: `${boat}: haul-out logged` }).waitFor()
    await page.getByText(new RegExp(`^${anode}: `)).waitFor()
    await page.getByText('1 photo added.').waitFor()
    await page.getByText('The replacement dates have been worked out anew.').waitFor({ timeout: TEST_LIMIT_MS })

    const weighed = (await forecasts()).find((item) => item.boat === boat && item.anode === anode)
    expect(Math.abs((weighed?.massNow.p50 ?? 0) - expectedG)).toBeLessThan(0.05 * expectedG)
    await page.getByRole('link', { name: 'To the boat', exact: true }).click()
    const section = page.getByRole('region', { name: anode, exact: true })
    const photo = section.getByRole('img', { name: `Seen on ${britishDate(TODAY)}` })
    await photo.scrollIntoViewIfNeeded()
    await expect.poll(() => photo.evaluate((image) => (image as HTMLImageElement).naturalWidth)).toBeGreaterThan(0)
    await section.getByText(/^\d+ weighings?$/).click()
    await section.getByRole('cell', { name: britishDate(TODAY), exact: true }).waitFor()
    await page.getByRole('link', { name: '‹ Fleet' }).click()
    await page.getByLabel('Find a boat or berth').fill(boat)
    await page.getByText(/^1 of \d+ boats$/).waitFor()
    const next = (await forecasts())
      .filter((item) => item.boat === boat)
      .toSorted((a, b) => ((a.replace.p50 ?? NEVER) < (b.replace.p50 ?? NEVER) ? -1 : 1))[0]
    const gauge = page
      .locator('.fleet-row')
      .getByRole('img', { name: `${Math.round((next?.consumedNow ?? 0) * 100)} %` })
    await gauge.first().waitFor()
    await close()
  })

  it('sizes anodes with the keyboard alone, and gives the number that the service gives', async () => {
    const { page, complaints, close } = await enter(PHONE)
    await page.getByRole('button', { name: 'Menu' }).click()
    await page.getByRole('link', { name: 'Sizing' }).click()
    await page.getByRole('radio', { name: 'The current' }).focus()
    await page.keyboard.press('Space')
    for (const [label, typed] of [
      ['When new', '2'],
      ['On average', '0,8'],
      ['At the end', '1.2'],
      ['Life wanted', '3'],
      ['Net mass', '900'],
    ] as const) {
      await page.getByRole('textbox', { name: label }).focus()
      await page.keyboard.press('ControlOrMeta+A')
      await page.keyboard.type(typed)
    }
    const current = { initialA: 2, meanA: 0.8, finalA: 1.2 }
    const anode = { shape: 'other', massKg: 0.9, exposedAreaM2: 0.009 }
    const input = { current, years: 3, alloy: 'zinc', salinityPsu: 32, temperatureC: 12, anode }
    const { number } = await service.calculate('sizing', input)
    await page.getByText(`For 3 years: ${number} anodes`).waitFor()
    await page.getByRole('img', { name: new RegExp(`^Life against net mass. For 3 years: ${number} anodes`) }).waitFor()
    expect(await smallTargets(page)).toEqual([])
    await page.getByRole('textbox', { name: 'Salinity' }).fill('')
    await page.getByText('This figure is needed.').waitFor()
    expect(complaints).toEqual([])
    await close()
  })

  it('shows the track record that the service gives, to staff and not to owners', async () => {
    const { calibration, standouts } = ModelView.parse(await service.get('/v1/model'))
    expect(calibration.scored).toBeGreaterThan(0)
    const { page, complaints, close } = await enter(DESK)
    await page.getByRole('link', { name: 'Track record' }).click()
    await page
      .getByText(`Of ${calibration.scored.toLocaleString('en-GB')} forecasts judged`)
      .first()
      .waitFor()
    const promises = page.getByRole('img', { name: /^Promises against what came/ }).locator('.promises circle')
    await expect.poll(() => promises.count(), { timeout: 30_000 }).toBe(9)
    for (const { group, scored } of calibration.byHorizon) {
      const row = page.getByRole('row', { name: new RegExp(`^${group}`, 'i') })
      expect(await row.getByRole('cell').first().textContent()).toBe(scored.toLocaleString('en-GB'))
    }
    for (const { boat } of standouts.slice(0, 3)) await page.getByRole('link', { name: boat }).first().waitFor()
    expect(complaints).toEqual([])
    await close()
    const owner = await enter(DESK, 'owner')
    expect(await owner.page.getByRole('link', { name: 'Track record' }).count()).toBe(0)
    await owner.close()
  })

  it('says in the mail form where to look, and at the set-up page what is wrong with the link', async () => {
    const { page, close } = await openPage(browser, PHONE)
    await page.goto(`${service.address}/sign-in`)
    await page.getByLabel('Your e-mail address').fill('nobody@example.org')
    await page.getByRole('button', { name: 'Send me a link' }).click()
    await page.getByRole('heading', { name: 'Look in your mail' }).waitFor()
    await page.goto(`${service.address}/set-up?token=spent`)
    await page.getByLabel('Name of your yard or marina').fill('North Quay')
    await page.getByLabel('Your e-mail address').fill('ada@example.org')
    await page.getByRole('button', { name: 'Set up' }).click()
    await page.getByRole('alert').first().waitFor()
    await close()
  })

  // Serious and critical rules of axe-core 4, which tests WCAG 2 A and AA.
  it.each([
    ['phone', PHONE, 'light'],
    ['phone', PHONE, 'dark'],
    ['desk', DESK, 'light'],
    ['desk', DESK, 'dark'],
  ] as const)('has no serious violation of accessibility on a %s (%o, %s)', async (place, viewport, colorScheme) => {
    const { page, complaints, close } = await openPage(browser, viewport)
    const boat = encodeURIComponent((await anodeToWeigh()).boat)
    await page.emulateMedia({ colorScheme })
    const found: Record<string, string[]> = {}
    const visit = async (name: string, path: string, ready: string) => {
      await page.goto(service.address + path)
      await page.locator(ready).first().waitFor()
      found[name] = [...(await seriousViolations(page)), ...(await widerThan(page, viewport.width))]
      await keepPicture(page, `${name}-${place}-${colorScheme}`)
    }
    await visit('sign-in', '/sign-in', '.look-as button')
    await visit('set-up', '/set-up?token=x', 'form')
    await page.goto(`${service.address}/sign-in`)
    await page.getByRole('button', { name: 'Look as staff' }).click()
    await page.locator('.fleet-row').first().waitFor()
    await visit('fleet', '/', '.fleet-row')
    await visit('boat', `/boats/${boat}`, '.plot svg')
    await visit('haul-out', `/boats/${boat}/haul-out`, '.anode-card')
    await visit('sizing', '/sizing', '.plot svg')
    await visit('model', '/model', '.promises circle')
    expect(found).toEqual({ 'sign-in': [], 'set-up': [], fleet: [], boat: [], 'haul-out': [], sizing: [], model: [] })
    expect(complaints).toEqual([])
    await close()
  })

  /** An anode in place that was weighed on a scale, and a mass that nobody would doubt. */
  async function anodeToWeigh() {
    const anodes = AnodePage.parse(await service.get(`/v1/anodes?limit=200&inPlaceOn=${TODAY}`)).items
    for (const { boat, anode, massNow, asOf, replace } of await forecasts()) {
      const known = anodes.find((each) => each.boat === boat && each.name === anode)
      const last = known?.lastWeighing
      if (!last?.massG || last.method !== 'scale' || last.weighedOn >= TODAY || (replace.p50 ?? '') <= asOf) continue
      return { boat, anode, expectedG: Math.round(massNow.p50), tooHeavyG: Math.round(last.massG * 1.6) }
    }
    throw new Error('the fleet has no anode to weigh')
  }
})

/** A picture as a phone might send it. */
function grey(): Promise<Buffer> {
  return sharp({ create: { width: 320, height: 240, channels: 3, background: '#7a8288' } })
    .png()
    .toBuffer()
}

/** Controls on a phone that a wet thumb would miss: smaller than 44 px (WCAG 2.2, 2.5.5) either way. */
async function smallTargets(page: Page): Promise<string[]> {
  return page
    .locator('button, select, input:not([type=checkbox], [type=radio]), summary, .chip, .segment')
    .evaluateAll((controls) =>
      controls
        .filter((control) => control.checkVisibility())
        .filter((control) => control.getBoundingClientRect().height < 44 || control.getBoundingClientRect().width < 44)
        .map((control) => control.outerHTML.slice(0, 120)),
    )
}

async function widerThan(page: Page, width: number): Promise<string[]> {
  const scrolled = await page.evaluate(() => document.documentElement.scrollWidth)
  return scrolled > width ? [`the page is ${scrolled} px wide`] : []
}

/** With SCREENSHOT_FOLDER set, a picture of the page for people to look at. */
async function keepPicture(page: Page, name: string): Promise<void> {
  const folder = process.env.SCREENSHOT_FOLDER
  if (folder) await page.screenshot({ path: join(folder, `${name}.png`) })
}
