import { type ParsedMail, simpleParser } from 'mailparser'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type MailServer, OPEN_TO_ALL, startMailServer } from '../outside/mail-server.js'
import { DESK, isBrowserWanted, launchBrowser, openPage, PHONE } from './browser.js'
import { expectFit } from './expect-fit.js'
import { type RunningService, startServiceWithFleet } from './running-service.js'

if (!isBrowserWanted) console.log('browser tests are skipped: no Chromium was found (set CHROMIUM_PATH)')

const SET_UP_LIMIT_MS = 360_000
const TEST_LIMIT_MS = 120_000
const TODAY = new Date().toISOString().slice(0, 10)
/** A page that is fetched on a machine that does other work too. */
const SOON = { timeout: 30_000 }

describe.skipIf(!isBrowserWanted)('letters to owners', { timeout: TEST_LIMIT_MS }, () => {
  let browser: Browser
  let service: RunningService
  let smtp: MailServer
  const taken: ParsedMail[] = []
  /** Without the invitations. */
  const letters = () => taken.filter(({ text }) => text?.includes('/letters/'))

  beforeAll(async () => {
    smtp = await startMailServer(async (letter) => void taken.push(await simpleParser(letter)), OPEN_TO_ALL)
    process.env.SMTP_URL = `smtp://${smtp.host}`
    browser = await launchBrowser()
    service = await startServiceWithFleet(TODAY)
  }, SET_UP_LIMIT_MS)

  afterAll(async () => {
    delete process.env.SMTP_URL
    await browser?.close()
    await service?.stop()
    await smtp?.close()
  }, SET_UP_LIMIT_MS)

  it('are looked at by an administrator before they are switched on, go out, and are logged with why', async () => {
    const { page, complaints, close } = await openPage(browser, DESK)
    // The demo lets nobody look as an administrator: the page asks with the key of the tests.
    await page.setExtraHTTPHeaders({ authorization: `Bearer ${service.key}` })
    await page.goto(`${service.address}/settings/letters`)
    await page.getByText('Off: nobody is written to.').waitFor(SOON)
    await page.getByText(/^\d+ letters?$/).waitFor(SOON)
    expect(letters()).toEqual([])
    await page.getByLabel('Quiet from (hour)').fill('0')
    await page.getByLabel('Quiet until (hour)').fill('0')
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Saved.').waitFor(SOON)
    await page.getByRole('button', { name: 'Switch on' }).click()
    await page.getByText('On: letters go out by themselves.').waitFor(SOON)
    await expect.poll(() => letters().length, { timeout: 60_000 }).toBeGreaterThan(3)
    // The page itself sees them go, one after the other.
    await page
      .locator('.notice-row .tag', { hasText: /Sent .*\d/ })
      .first()
      .waitFor(SOON)
    await expectFit(page)
    await page.setViewportSize(PHONE)
    await expectFit(page)
    expect(complaints).toEqual([])
    await close()
  })

  it('can be sent to whoever looks at them, as their reader will have them', async () => {
    const { page, complaints, close } = await openPage(browser, PHONE)
    await page.request.post(`${service.address}/v1/demo/look-as`, { data: { role: 'manager' } })
    await page.goto(`${service.address}/settings/letters`)
    const before = taken.length
    await page
      .getByRole('button', { name: /^Send it to me: / })
      .first()
      .click()
    const said = await page.getByText(/^Sent to .+@.+\.$/).textContent(SOON)
    const [trial] = taken.slice(before).filter((letter) => said!.includes((letter.to as { text: string }).text))
    expect(trial!.text).toContain('WHAT TO ORDER')
    await expectFit(page)
    await page.setViewportSize(DESK)
    await expectFit(page)
    expect(complaints).toEqual([])
    await close()
  })

  it('open the boat’s page for its owner, signed in', async () => {
    const letter = letters().find(({ text }) => text!.includes('HOW SURE'))!
    const link = letter.text!.match(/https?:\S+(\/letters\/open\/\S+)/)![1]!
    const { page, complaints, close } = await openPage(browser, PHONE)
    await page.goto(service.address + link)
    await page.getByRole('heading', { name: 'When' }).first().waitFor(SOON)
    expect(new URL(page.url()).pathname).toBe('/yours')
    const boat = page.locator(new URL(page.url()).hash)
    expect(letter.text).toContain(await boat.getByRole('heading').first().textContent())
    expect(await boat.boundingBox().then((box) => box!.y)).toBeLessThan(PHONE.height)
    await page.goto(`${service.address}/letters/open/cut-off`)
    await page.getByText(/^This link does not work/).waitFor(SOON)
    await expectFit(page)
    expect(complaints.filter((said) => !said.includes('404'))).toEqual([])
    await close()
  })

  it('lead their reader to a page where letters are put off, ended and begun again, without signing in', async () => {
    const letter = letters().find(({ text }) => text!.includes('HOW SURE'))!
    const link = letter.text!.match(/https?:\S+\/letters\/(?!open)\S+/)![0]
    const { page, complaints, close } = await openPage(browser, PHONE)
    await page.goto(service.address + new URL(link).pathname)
    await page.getByRole('heading', { name: /^Letters about / }).waitFor(SOON)
    await expectFit(page)
    await page.getByRole('button', { name: 'In a month' }).click()
    await page.getByText(/^No letters about .+ before /).waitFor(SOON)
    await page.getByRole('button', { name: 'Log it' }).click()
    await page.getByText('Tick at least one anode.').waitFor(SOON)
    await page.getByRole('button', { name: /^No more letters about / }).click()
    await page.getByText('No more letters will come.').waitFor(SOON)
    await page.getByRole('button', { name: 'Send letters again' }).click()
    await page.getByRole('heading', { name: 'Remind me later' }).waitFor(SOON)
    await page.getByRole('checkbox').first().check()
    await page.getByRole('button', { name: 'Log it' }).click()
    await page.getByText('Logged. Thank you').waitFor(SOON)
    await page.goto(`${service.address}/letters/nonsense`)
    await page.getByText('This link does not work.').waitFor(SOON)
    // Nobody is signed in there, and the last link is none.
    expect(complaints.filter((complaint) => !/401|404/.test(complaint))).toEqual([])
    await close()
  })
})
