import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { DepletionView } from '../../src/contract/forecasts.js'
import { HaulOutPage } from '../../src/contract/haul-outs.js'
import { PotentialPage } from '../../src/contract/potentials.js'
import { StayPage } from '../../src/contract/stays.js'
import { nextLiftOf } from '../../src/presentation/next-lift.js'
import { readPdf } from '../outside/read-pdf.js'
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
/** Later than any lift that the demo fleet has planned, so that it comes first. */
const LIFT_DAY = `${Number(TODAY.slice(0, 4)) + 4}-04-18`
/** A page that is fetched on a machine that does other work too. */
const SOON = { timeout: 30_000 }
/** Surveyed twice with an electrode, with the shore lead and without. */
const BOAT = 'Second Kettle'
const PATH = `/v1/boats/${encodeURIComponent(BOAT)}`

describe.skipIf(!isBrowserWanted)('the page of a boat in a browser', { timeout: TEST_LIMIT_MS }, () => {
  let browser: Browser
  let service: RunningService
  let depletion: DepletionView

  beforeAll(async () => {
    browser = await launchBrowser()
    service = await startServiceWithFleet(TODAY)
    depletion = DepletionView.parse(await service.get(`${PATH}/depletion`))
    const { page, close } = await enter(DESK)
    for (const { id, anode, on } of photographed(depletion)) await addPhoto(page, id, `${anode} ${on}`)
    await close()
  }, SET_UP_LIMIT_MS)

  afterAll(async () => {
    await browser?.close()
    await service?.stop()
  }, SET_UP_LIMIT_MS)

  async function enter(viewport: { width: number; height: number }): Promise<WatchedPage> {
    const watched = await openPage(browser, viewport)
    await watched.page.goto(`${service.address}/`)
    await watched.page.getByRole('button', { name: 'Look as staff' }).click()
    await watched.page.getByRole('heading', { name: 'Fleet' }).waitFor()
    return watched
  }

  const open = async (page: Page) => {
    await page.goto(`${service.address}/boats/${encodeURIComponent(BOAT)}`)
    await page.getByRole('heading', { name: BOAT }).waitFor()
  }

  it.each([
    ['a phone', PHONE],
    ['a desk', DESK],
  ] as const)('puts a lift into the calendar on %s, and takes it out again', async (_, size) => {
    const { page, complaints, close } = await enter(size)
    await open(page)
    const lifts = async () =>
      HaulOutPage.parse(await service.get(`/v1/haul-outs?boat=${encodeURIComponent(BOAT)}&limit=200`))
        .items.map(({ hauledOn }) => hauledOn)
        .filter((day) => day === LIFT_DAY)
    await page.getByLabel('Day of the lift').fill(LIFT_DAY)
    await page.getByRole('button', { name: 'Put into the calendar' }).click()
    const takeOut = page.getByRole('button', { name: `Take out the lift of 18 Apr ${LIFT_DAY.slice(0, 4)}` })
    await takeOut.waitFor(SOON)
    expect(await lifts()).toEqual([LIFT_DAY])
    await page.getByRole('button', { name: 'Put into the calendar' }).click()
    await page.getByText('This lift is in the calendar already.').waitFor(SOON)
    expect(await seriousViolations(page)).toEqual([])
    await takeOut.click()
    await expect.poll(lifts, SOON).toEqual([])
    expect(complaints).toEqual([])
    await close()
  })

  it('compares two photos by a line that goes with the pointer and with the arrow keys', async () => {
    const { page, complaints, close } = await enter(DESK)
    await open(page)
    const slider = page.getByRole('slider', { name: 'Line between the two photos' })
    await slider.waitFor()
    expect(await slider.getAttribute('aria-valuetext')).toMatch(/^left 50 % of .+, right 50 % of /)
    await slider.focus()
    for (let press = 0; press < 10; press++) await page.keyboard.press('ArrowRight')
    expect(await slider.inputValue()).toBe('60')
    const frame = page.locator('.photo-frame')
    await frame.scrollIntoViewIfNeeded()
    const box = (await frame.boundingBox())!
    await page.mouse.move(box.x + box.width * 0.6, box.y + box.height / 2)
    await page.mouse.down()
    await page.mouse.move(box.x + box.width * 0.25, box.y + box.height / 2, { steps: 4 })
    await page.mouse.up()
    expect(await slider.inputValue()).toBe('25')
    const [older, newer] = await page.locator('.photo-day').allTextContents()
    expect(older).not.toBe(newer)
    const isDrawn = await frame
      .locator('img')
      .evaluateAll((images) => images.every((image) => (image as HTMLImageElement).naturalWidth > 0))
    expect(isDrawn).toBe(true)
    expect(complaints).toEqual([])
    await close()
  })

  it('charts every potential with its band, told apart by the shore lead, and tells the same as a table', async () => {
    const { items } = PotentialPage.parse(await service.get(`${PATH}/potentials?limit=200`))
    const hull = items.filter(({ fitting, reference }) => fitting === null && reference !== null)
    const { page, complaints, close } = await enter(DESK)
    await open(page)
    const panel = page.getByRole('region', { name: 'Potentials' })
    await panel.getByRole('radio', { name: 'Bonded hull' }).check()
    await panel.getByRole('img', { name: new RegExp(`^Bonded hull: potentials, ${hull.length} readings`) }).waitFor()
    await expect.poll(() => panel.locator('.readings :is(path, circle)').count()).toBe(hull.length)
    expect(await panel.locator('.protection-band rect').count()).toBe(1)
    await panel.getByText(`${hull.length} readings as a table`).click()
    expect(await panel.getByRole('row').count()).toBe(hull.length + 1)
    const states = hull.map(({ shorePower }) => shorePower ?? 'not noted').toSorted()
    const shown = await panel.locator('tbody td:last-child').allTextContents()
    expect(shown.toSorted()).toEqual(states)
    expect(complaints).toEqual([])
    await close()
  })

  it('says what to order for the next lift, and where the boat lay', async () => {
    const order = nextLiftOf(depletion)!
    const stays = StayPage.parse(await service.get(`${PATH}/stays?limit=200`)).items
    const { page, close } = await enter(PHONE)
    await open(page)
    const panel = page.getByRole('region', { name: 'To order for the next lift' })
    await panel.waitFor()
    expect(await panel.getByRole('listitem').count()).toBe(order.parts.length)
    for (const { count } of order.parts) await panel.getByText(`${count} ×`).first().waitFor()
    for (const anode of order.replace) expect(await panel.textContent()).toContain(anode)
    await page.getByRole('img', { name: /^Stays: / }).waitFor()
    expect(await page.locator('.stay').count()).toBe(stays.length)
    await close()
  })

  it('leads to a report for printing, of the latest lift and of each before', async () => {
    const { page, close } = await enter(DESK)
    await open(page)
    const link = page.getByRole('link', { name: 'Print report (PDF)' })
    const answer = await page.request.get(new URL((await link.getAttribute('href'))!, service.address).href)
    expect(answer.headers()['content-type']).toBe('application/pdf')
    const { pages } = await readPdf(await answer.body())
    expect(pages).toHaveLength(2)
    expect(pages[0]).toContain(BOAT)
    const [, before] = await page.getByRole('link', { name: /^Report of .* \(PDF\)$/ }).all()
    expect(
      (await page.request.get(new URL((await before!.getAttribute('href'))!, service.address).href)).status(),
    ).toBe(200)
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
    await open(page)
    for (const part of ['.photo-frame', '.readings path', '.stay']) await page.locator(part).first().waitFor()
    expect(await seriousViolations(page)).toEqual([])
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(viewport.width)
    const folder = process.env.SCREENSHOT_FOLDER
    if (folder) await page.screenshot({ path: join(folder, `boat-${place}-${colorScheme}.png`), fullPage: true })
    expect(complaints).toEqual([])
    await close()
  })
})

/** Two weighings at one position, days apart. */
function photographed({ anodes }: DepletionView) {
  const seen = anodes.flatMap(({ anode, position, positionSlot, weighings }) =>
    weighings.map(({ id, on }) => ({ id, on, anode, place: `${position} ${positionSlot}` })),
  )
  const place = seen.find((first) => seen.some((other) => other.place === first.place && other.on > first.on))?.place
  const there = seen.filter((each) => each.place === place).toSorted((a, b) => (a.on < b.on ? -1 : 1))
  return [there[0]!, there.at(-1)!]
}

/** Draws a picture with words on it and sends it as a camera's. */
async function addPhoto(page: Page, weighing: string, words: string): Promise<void> {
  const status = await page.evaluate(
    async ({ weighing, words }) => {
      const canvas = Object.assign(document.createElement('canvas'), { width: 800, height: 600 })
      const pen = canvas.getContext('2d')!
      pen.fillStyle = `hsl(${(words.length * 47 + words.charCodeAt(words.length - 1) * 31) % 360} 40% 60%)`
      pen.fillRect(0, 0, 800, 600)
      pen.fillStyle = '#123'
      pen.font = '48px sans-serif'
      pen.fillText(words, 40, 320)
      const picture = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/png'))
      const form = new FormData()
      form.set('photo', picture!, 'seen.png')
      return (await fetch(`/v1/weighings/${weighing}/photos`, { method: 'POST', body: form })).status
    },
    { weighing, words },
  )
  expect(status).toBe(201)
}
