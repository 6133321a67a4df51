import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { BoatPage } from '../../src/contract/boats.js'
import { DepletionView } from '../../src/contract/forecasts.js'
import { HaulOutPage } from '../../src/contract/haul-outs.js'
import { StayPage } from '../../src/contract/stays.js'
import { WeighingView } from '../../src/contract/weighings.js'
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
/** A page that is fetched on a machine that does other work too. */
const SOON = { timeout: 30_000 }
const BOAT = 'Slow Teasel'

describe.skipIf(!isBrowserWanted)('putting right what was logged, in a browser', { timeout: TEST_LIMIT_MS }, () => {
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

  async function enter(role: 'staff' | 'owner', viewport: typeof PHONE | typeof DESK): Promise<WatchedPage> {
    const watched = await openPage(browser, viewport)
    const headers = { origin: service.address }
    await watched.page.request.post(`${service.address}/v1/demo/look-as`, { data: { role }, headers })
    return watched
  }

  async function open(page: Page, boat: string): Promise<void> {
    await page.goto(`${service.address}/boats/${encodeURIComponent(boat)}`)
    await page.getByRole('heading', { name: boat, exact: true }).waitFor(SOON)
  }

  /** The newest weighing of an anode in place, where that was on a scale, and how many that anode has. */
  async function weighed(): Promise<{ anode: string; id: string; massG: number; count: number }> {
    const path = `/v1/boats/${encodeURIComponent(BOAT)}/depletion`
    const { anodes } = DepletionView.parse(await service.get(path))
    const inPlace = anodes.filter(({ removedOn }) => removedOn === null)
    const one = inPlace.find(({ weighings }) => weighings.at(-1)?.method === 'scale')!
    return { anode: one.anode, count: one.weighings.length, ...one.weighings.at(-1)! }
  }

  const read = async (id: string) => WeighingView.parse(await service.get(`/v1/weighings/${id}`))

  async function openForm(page: Page, anode: string, count: number) {
    await open(page, BOAT)
    const section = page.getByRole('region', { name: anode, exact: true })
    await section.getByText(count === 1 ? '1 weighing' : `${count} weighings`, { exact: true }).click()
    await section
      .getByRole('button', { name: `Correct ${anode}` })
      .first()
      .click()
    const form = section.getByRole('form', { name: `Correct ${anode}` })
    await form.getByLabel('Gross mass').waitFor(SOON)
    return { section, form }
  }

  it.each([
    ['a phone', PHONE],
    ['a desk', DESK],
  ] as const)('corrects the mass of a weighing on %s, with the reason on record', async (_, size) => {
    const { page, complaints, close } = await enter('staff', size)
    const { anode, id, massG, count } = await weighed()
    const { section, form } = await openForm(page, anode, count)
    await form.getByRole('button', { name: 'Save the correction' }).click()
    await form.getByText('Nothing was changed yet').waitFor()
    const right = Math.round(massG) - 3
    await form.getByLabel('Gross mass').fill('much')
    await form.getByLabel('Why it is corrected').fill('read from the wrong line')
    await form.getByRole('button', { name: 'Save the correction' }).click()
    await form.getByText('“much” is not a number.').waitFor()
    expect((await read(id)).version).toBeGreaterThan(0)
    expect(await seriousViolations(page)).toEqual([])
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(size.width)
    await form.getByLabel('Gross mass').fill(String(right))
    await form.getByRole('button', { name: 'Save the correction' }).click()
    await section.getByText('Corrected. The forecasts follow in a moment.').waitFor(SOON)
    expect((await read(id)).massG).toBe(right)
    await section.getByRole('button', { name: 'Close' }).click()
    // The hand is back where it was.
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('data-weighing'))).toBe(id)
    expect(complaints).toEqual([])
    await close()
  })

  it('says that a weighing was corrected meanwhile, and goes on from what stands there now', async () => {
    const { page, complaints, close } = await enter('staff', PHONE)
    const { anode, id, count } = await weighed()
    const { section, form } = await openForm(page, anode, count)
    const { massG, version } = await read(id)
    const theirs = massG! - 1
    const answer = await page.request.patch(`${service.address}/v1/weighings/${id}`, {
      data: { massG: theirs, reason: 'weighed once more' },
      headers: { origin: service.address, 'if-match': `"${version}"` },
    })
    expect(answer.status()).toBe(200)
    await form.getByLabel('Note', { exact: true }).fill('crust on the port side')
    await form.getByLabel('Why it is corrected').fill('a note was missing')
    await form.getByRole('button', { name: 'Save the correction' }).click()
    await form.getByText('Somebody has corrected this weighing meanwhile.').waitFor(SOON)
    await form.getByRole('button', { name: 'Read it again' }).click()
    const again = section.getByRole('form', { name: `Correct ${anode}` })
    await expect.poll(() => again.getByText('Somebody has corrected').count(), SOON).toBe(0)
    await again.getByLabel('Note', { exact: true }).fill('crust on the port side')
    await again.getByLabel('Why it is corrected').fill('a note was missing')
    await again.getByRole('button', { name: 'Save the correction' }).click()
    await section.getByText('Corrected. The forecasts follow in a moment.').waitFor(SOON)
    expect(await read(id)).toMatchObject({ massG: theirs, note: 'crust on the port side' })
    expect(complaints.filter((complaint) => !complaint.includes('412'))).toEqual([])
    await close()
  })

  it('takes a weighing out that should not be there, once asked again', async () => {
    const { page, complaints, close } = await enter('staff', DESK)
    const { anode, id, count } = await weighed()
    const { section, form } = await openForm(page, anode, count)
    await form.getByLabel('Why it is corrected').fill('another boat')
    await form.getByRole('button', { name: 'Delete this weighing' }).click()
    expect((await read(id)).id).toBe(id)
    await form.getByRole('button', { name: 'Delete it, for the reason given' }).click()
    await section.getByText('Deleted. Its history stays on record').waitFor(SOON)
    await expect(read(id)).rejects.toThrow('404')
    expect(complaints).toEqual([])
    await close()
  })

  it('shows an owner no way to change what the yard weighed', async () => {
    const { page, complaints, close } = await enter('owner', PHONE)
    await page.goto(`${service.address}/yours`)
    await page.locator('.your-boat-more').first().click(SOON)
    const fold = page.getByText(/^\d+ weighings?$/).first()
    await fold.click(SOON)
    await page.getByRole('columnheader', { name: 'Gross mass' }).first().waitFor(SOON)
    expect(await page.getByRole('button', { name: /^Correct / }).count()).toBe(0)
    expect(complaints).toEqual([])
    await close()
  })

  it('says of a boat that stayed ashore when it is back in the water, and where', async () => {
    const { page, complaints, close } = await enter('staff', PHONE)
    const boats = BoatPage.parse(await service.get('/v1/boats?limit=200')).items
    const { name: boat, currentBerth } = boats.find((each) => each.currentBerth !== null && each.name !== BOAT)!
    const inPath = encodeURIComponent(boat)
    await service.post(`/v1/boats/${inPath}/haul-outs`, { hauledOn: TODAY, relaunch: { berth: null } })
    await open(page, boat)
    const form = page.getByRole('form', { name: /^Lifted on .*: back in the water\?$/ })
    await form.getByLabel('Back in the water on').waitFor(SOON)
    expect(await form.getByLabel('Back in the water on').inputValue()).toBe(TODAY)
    expect(await seriousViolations(page)).toEqual([])
    expect(await form.getByLabel('Berth').inputValue()).toBe(currentBerth)
    await form.getByRole('button', { name: 'Put it on record' }).click()
    await page.getByText('On record. The forecasts follow in a moment.').waitFor(SOON)
    const lifts = HaulOutPage.parse(await service.get(`/v1/haul-outs?boat=${inPath}&from=${TODAY}&to=${TODAY}`)).items
    expect(lifts).toMatchObject([{ hauledOn: TODAY, relaunchedOn: TODAY }])
    const stays = StayPage.parse(await service.get(`/v1/stays?boat=${inPath}&limit=200`)).items
    expect(stays.find(({ toOn, fromOn }) => toOn === null || fromOn === TODAY)).toMatchObject({ berth: currentBerth })
    expect(complaints).toEqual([])
    await close()
  })
})
