import { createECDH } from 'node:crypto'
import { createServer, type Server } from 'node:http'
import ICAL from 'ical.js'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { decryptPush, type Browser as PushBrowser } from '../outside/decrypt-push.js'
import { DESK, isBrowserWanted, launchBrowser, openPage, PHONE } from './browser.js'
import { expectFit } from './expect-fit.js'
import { type RunningService, startServiceWithFleet } from './running-service.js'

if (!isBrowserWanted) console.log('browser tests are skipped: no Chromium was found (set CHROMIUM_PATH)')

const SET_UP_LIMIT_MS = 360_000
const TEST_LIMIT_MS = 120_000
const TODAY = new Date().toISOString().slice(0, 10)
/** A page that is fetched on a machine that does other work too. */
const SOON = { timeout: 30_000 }
/** A first sending that got no answer in time is tried again after 30 s. */
const AFTER_ANOTHER_TRY = { timeout: 60_000 }
const TRIAL_SENT = 'On its way. Look into the log below.'

describe.skipIf(!isBrowserWanted)('calendars, notifications and webhooks', { timeout: TEST_LIMIT_MS }, () => {
  let browser: Browser
  let service: RunningService
  let outside: Server
  let outsideUrl: string
  let received: { path: string; body: Buffer }[] = []

  beforeAll(async () => {
    process.env.WEBHOOK_NETWORKS = 'loopback'
    outside = createServer((request, response) => {
      const chunks: Buffer[] = []
      request.on('data', (chunk: Buffer) => chunks.push(chunk))
      request.on('end', () => {
        received.push({ path: request.url!, body: Buffer.concat(chunks) })
        response.writeHead(request.url === '/closed' ? 503 : 201).end(request.url === '/closed' ? 'closed today' : '')
      })
    })
    await new Promise<void>((done) => outside.listen(0, '127.0.0.1', done))
    const at = outside.address()
    outsideUrl = `http://127.0.0.1:${typeof at === 'object' && at ? at.port : 0}`
    browser = await launchBrowser()
    service = await startServiceWithFleet(TODAY)
  }, SET_UP_LIMIT_MS)

  afterAll(async () => {
    delete process.env.WEBHOOK_NETWORKS
    outside?.close()
    await browser?.close()
    await service?.stop()
  }, SET_UP_LIMIT_MS)

  async function lookAs(page: Page, role: string, path: string): Promise<void> {
    await page.goto(`${service.address}/sign-in`)
    await page.getByRole('button', { name: `Look as ${role}` }).click()
    await page.waitForURL((url) => !url.pathname.startsWith('/sign-in'), SOON)
    await page.goto(service.address + path)
  }

  it.each([
    ['a phone', PHONE],
    ['a desk', DESK],
  ] as const)('gives an owner on %s a calendar link, which ends when it is revoked', async (_, size) => {
    const { page, complaints, close } = await openPage(browser, size)
    await lookAs(page, 'owner', '/yours')
    await page.getByRole('heading', { name: 'In your calendar' }).waitFor(SOON)
    await page.getByRole('button', { name: 'Make a link' }).click()
    await page.getByText('It is shown only now').waitFor(SOON)
    const link = await page.locator('.settings-secret code').textContent()
    await expectFit(page)
    const open = await page.getByRole('link', { name: 'Open in the calendar' }).getAttribute('href')
    expect(open).toBe(link!.replace('http:', 'webcal:'))
    const calendar = new ICAL.Component(ICAL.parse(await (await fetch(link!)).text()))
    expect(calendar.getAllSubcomponents('vevent').length).toBeGreaterThan(0)
    await page.getByRole('button', { name: 'I have it' }).click()
    await page.goto(`${service.address}/settings`)
    await page.getByRole('button', { name: 'Revoke Your boats, English' }).first().click()
    await page.getByRole('button', { name: 'Yes, revoke' }).click()
    await expect.poll(async () => (await fetch(link!)).status, SOON).toBe(404)
    await page.getByText('You have no calendar link yet.').waitFor(SOON)
    expect(complaints).toEqual([])
    await close()
  })

  it.each([
    ['a phone', PHONE],
    ['a desk', DESK],
  ] as const)(
    'lets an administrator on %s have a program told, and send again what did not arrive',
    async (_, size) => {
      received = []
      const { page, complaints, close } = await openPage(browser, size)
      // The demo lets nobody look as an administrator: the page asks with the key of the tests.
      await page.setExtraHTTPHeaders({ authorization: `Bearer ${service.key}` })
      await page.goto(`${service.address}/settings/webhooks`)
      await page.getByLabel('What is it?').fill('Office')
      await page.getByLabel('Address (https)').fill('http://10.9.8.7/in')
      await page.getByRole('button', { name: 'Add' }).click()
      await page.getByText('10.9.8.7 is not in the public network').waitFor(SOON)
      await page.getByLabel('Address (https)').fill(`${outsideUrl}/closed`)
      await page.getByRole('button', { name: 'Add' }).click()
      await page.getByText('This is the secret').waitFor(SOON)
      expect(await page.locator('.settings-secret code').textContent()).toMatch(/^whsec_/)
      await page.getByRole('button', { name: 'I have it' }).click()
      await page.getByRole('button', { name: 'Send a trial message' }).click()
      // The line that says so moves the log down: a click before it may fall between the two places.
      await page.getByText(TRIAL_SENT).waitFor(SOON)
      await page.getByText('What was sent').click()
      await page.getByText('answered 503').waitFor(AFTER_ANOTHER_TRY)
      await page.getByText('closed today').waitFor(SOON)
      await expectFit(page)
      const tries = received.length
      await page.getByRole('button', { name: /^Send again: Trial message, / }).click()
      await expect.poll(() => received.length, SOON).toBeGreaterThan(tries)
      await page.getByRole('button', { name: 'Delete Office' }).click()
      await page.getByRole('button', { name: 'Yes, delete' }).click()
      await page.getByText('No program is told yet.').waitFor(SOON)
      // What was refused above stands on the console of the browser.
      expect(complaints.filter((complaint) => !complaint.includes('422'))).toEqual([])
      await close()
    },
  )

  it('shows on a phone what its push service was sent, and leads to its page', async () => {
    received = []
    const keys = createECDH('prime256v1')
    keys.generateKeys()
    const phone: PushBrowser = { keys, auth: Buffer.alloc(16, 7) }
    const context = await browser.newContext({ viewport: PHONE, hasTouch: true, locale: 'en-GB' })
    await context.grantPermissions(['notifications'], { origin: service.address })
    // The push service of a real browser is far away: the one of the tests stands in for it.
    await context.addInitScript(
      ({ endpoint, p256dh, auth }) => {
        const kept = () => localStorage.getItem('subscribed') === 'yes'
        const subscription = {
          endpoint,
          toJSON: () => ({ endpoint, expirationTime: null, keys: { p256dh, auth } }),
          unsubscribe: async () => {
            localStorage.removeItem('subscribed')
            return true
          },
        }
        Object.assign(PushManager.prototype, {
          getSubscription: async () => (kept() ? subscription : null),
          subscribe: async () => {
            localStorage.setItem('subscribed', 'yes')
            return subscription
          },
        })
      },
      {
        endpoint: `${outsideUrl}/phone`,
        p256dh: keys.getPublicKey('base64url'),
        auth: phone.auth.toString('base64url'),
      },
    )
    const page = await context.newPage()
    await lookAs(page, 'owner', '/settings')
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined))
    await page.reload()
    await page.getByRole('button', { name: 'Switch on here' }).click()
    await page.getByText('They are on here.').waitFor(SOON)
    await page.getByRole('button', { name: 'Send one on trial' }).click()
    await page.getByText('Sent. It should appear').waitFor(SOON)
    const message = received.find(({ path }) => path === '/phone')
    const text = decryptPush(message!.body, phone)
    expect(JSON.parse(text)).toMatchObject({ title: 'Notifications are on', path: '/settings' })

    const devtools = await context.newCDPSession(page)
    const registration = new Promise<string>((found) => {
      devtools.on('ServiceWorker.workerRegistrationUpdated', ({ registrations }) => {
        const [first] = registrations
        if (first) found(first.registrationId)
      })
    })
    await devtools.send('ServiceWorker.enable')
    const registrationId = await registration
    await devtools.send('ServiceWorker.deliverPushMessage', { origin: service.address, registrationId, data: text })
    const shown = () =>
      page.evaluate(async () => {
        const here = await navigator.serviceWorker.getRegistration()
        return (await here!.getNotifications()).map(({ title, body, data }) => ({ title, body, data }))
      })
    await expect.poll(shown, SOON).toEqual([
      {
        title: 'Notifications are on',
        body: 'Like this you learn when an anode comes due or when something is wrong.',
        data: `${service.address}/settings`,
      },
    ])
    await page.getByRole('button', { name: 'Switch off here' }).click()
    await page.getByText('They are off here.').waitFor(SOON)
    await context.close()
  })
})
