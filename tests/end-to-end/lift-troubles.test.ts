import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import encodeQr from 'qr'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { HaulOutDetail, HaulOutPage } from '../../src/contract/haul-outs.js'
import { isBrowserWanted, launchBrowser } from './browser.js'
import { type BoatToLift, boatsToLift } from './lift-boats.js'
import { openPhone, type Phone } from './phone.js'
import { type RunningService, startServiceWithFleet } from './running-service.js'
import { stillVideo } from './still-video.js'

if (!isBrowserWanted) console.log('browser tests are skipped: no Chromium was found (set CHROMIUM_PATH)')

const SET_UP_LIMIT_MS = 360_000
const TEST_LIMIT_MS = 180_000
const TODAY = new Date().toISOString().slice(0, 10)
const SOON = { timeout: 30_000 }
const DAY_MS = 86_400_000

describe.skipIf(!isBrowserWanted)('a phone in trouble at the lift', { timeout: TEST_LIMIT_MS }, () => {
  let browser: Browser
  let service: RunningService
  let folder: string
  let boats: BoatToLift[]

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'anode-ledger-camera-'))
    service = await startServiceWithFleet(TODAY)
    boats = await boatsToLift(service, TODAY)
    const video = join(folder, 'label.y4m')
    writeFileSync(video, await stillVideo(labelOf(boatAt(0))))
    browser = await launchBrowser([
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-video-capture=${video}`,
    ])
  }, SET_UP_LIMIT_MS)

  afterAll(async () => {
    await browser?.close()
    await service?.stop()
    rmSync(folder, { recursive: true, force: true })
  }, SET_UP_LIMIT_MS)

  const boatAt = (index: number): BoatToLift => {
    const boat = boats[index]
    if (boat === undefined) throw new Error(`the fleet has no ${index + 1} boats to lift`)
    return boat
  }

  /** The text of a boat's label as a picture, drawn by the library that the labels page draws with. */
  const labelOf = ({ name }: BoatToLift): Buffer =>
    Buffer.from(encodeQr(`${service.address}/lift/${encodeURIComponent(name)}`, 'svg', { border: 4, scale: 8 }))

  const openAnode = async ({ page }: Phone, boat: BoatToLift) => {
    const anode = boat.anodes[0]?.view.name ?? ''
    const path = `/lift/${encodeURIComponent(boat.name)}/anodes/${encodeURIComponent(anode)}`
    await page.goto(service.address + path)
    await page.locator('.keypad').waitFor(SOON)
  }

  const log = async ({ page }: Phone) => {
    await page.getByRole('link', { name: 'Back' }).tap()
    await page.getByRole('link', { name: 'Summary and log' }).tap()
    await page.locator('.read-out li').first().waitFor(SOON)
    await page.getByRole('button', { name: 'Log this haul-out' }).tap()
    await page.getByText('Sent: the service has it.').waitFor(SOON)
  }

  const loggedToday = async ({ name }: BoatToLift): Promise<HaulOutDetail[]> => {
    const query = new URLSearchParams({ boat: name, from: TODAY, to: TODAY })
    const { items } = HaulOutPage.parse(await service.get(`/v1/haul-outs?${query}`))
    return Promise.all(items.map(async ({ id }) => HaulOutDetail.parse(await service.get(`/v1/haul-outs/${id}`))))
  }

  const expectedG = (boat: BoatToLift) => Math.round(boat.anodes[0]?.forecast.massNow.p50 ?? 0)

  it('opens the boat whose label the camera sees', async () => {
    const phone = await openPhone(browser, service.address)
    await phone.page.goto(`${service.address}/lift`)
    await phone.tap(phone.page.getByRole('button', { name: 'Scan a label' }))
    await phone.page.waitForURL(`**/lift/${encodeURIComponent(boatAt(0).name)}`, SOON)
    await phone.page.getByRole('heading', { name: boatAt(0).name, level: 1 }).waitFor(SOON)
    expect(phone.complaints).toEqual([])
    await phone.close()
  })

  it.each([
    ['ahead', 1, 3],
    ['behind', 2, -3],
  ] as const)(
    'takes the day from the service where the phone’s clock is days %s, and says so',
    async (way, at, days) => {
      const boat = boatAt(at)
      const phone = await openPhone(browser, service.address)
      await phone.page.clock.setSystemTime(Date.now() + days * DAY_MS)
      await phone.page.goto(`${service.address}/lift`)
      await phone.page.locator('.lift-row').first().waitFor(SOON)
      await openAnode(phone, boat)
      await phone.page
        .getByText(new RegExp(`This phone’s clock is .* ${way}\\. Dates are taken from the service\\.`))
        .waitFor(SOON)
      await phone.key(String(expectedG(boat)))
      await log(phone)
      expect((await loggedToday(boat)).map(({ hauledOn }) => hauledOn)).toEqual([TODAY])
      expect(phone.complaints).toEqual([])
      await phone.close()
    },
  )

  /** From now on the phone keeps nothing new, as one whose room is used up; what it holds stays. */
  const fillUp = ({ page }: Phone) =>
    page.evaluate(() => {
      const refuse = () => {
        throw new DOMException('The quota has been exceeded.', 'QuotaExceededError')
      }
      Storage.prototype.setItem = refuse
      IDBObjectStore.prototype.put = refuse
    })

  it('says that its room is used up, loses nothing, and sends past its store once there is a network', async () => {
    const boat = boatAt(3)
    const phone = await openPhone(browser, service.address)
    await openAnode(phone, boat)
    // What a page fetches and writes at its start is not what is tried here.
    await phone.page.waitForLoadState('networkidle')
    await fillUp(phone)
    await phone.context.setOffline(true)
    await phone.key(String(expectedG(boat)))
    await phone.page.getByText('what you type now is there only as long as this page stays open').waitFor(SOON)
    await phone.page.getByRole('link', { name: 'Back' }).tap()
    await phone.page.getByRole('link', { name: 'Summary and log' }).tap()
    await phone.page.getByRole('button', { name: 'Log this haul-out' }).tap()
    await phone.page.getByText('This phone has no room left to keep this.').waitFor(SOON)
    await phone.page.getByRole('button', { name: 'Send it now' }).tap()
    await phone.page.getByText('Your entries are still here.').waitFor(SOON)
    expect(await loggedToday(boat)).toEqual([])
    await phone.context.setOffline(false)
    await phone.page.getByRole('button', { name: 'Send it now' }).tap()
    await phone.page.getByText('Sent: the service has it.').waitFor(SOON)
    const [logged] = await loggedToday(boat)
    expect(logged?.weighings.map(({ massG }) => massG)).toEqual([expectedG(boat)])
    expect(phone.complaints).toEqual([])
    await phone.close()
  })

  it('sends its outbox although its room is used up', async () => {
    const boat = boatAt(4)
    const phone = await openPhone(browser, service.address)
    await openAnode(phone, boat)
    await phone.context.setOffline(true)
    await phone.key(String(expectedG(boat)))
    await phone.page.getByRole('link', { name: 'Back' }).tap()
    await phone.page.getByRole('link', { name: 'Summary and log' }).tap()
    await phone.page.getByRole('button', { name: 'Log this haul-out' }).tap()
    await phone.page.getByText('Kept on this phone.').waitFor(SOON)
    await fillUp(phone)
    await phone.context.setOffline(false)
    await expect.poll(() => loggedToday(boat).then((logs) => logs.length), SOON).toBe(1)
    await phone.page.getByText('That entry is no longer on this phone.').waitFor(SOON)
    await phone.close()
  })
})
