import type { Browser, Page } from 'playwright-core'
import decodeQr from 'qr/decode.js'
import sharp from 'sharp'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { AnodePage } from '../../src/contract/anodes.js'
import { BerthPage } from '../../src/contract/berths.js'
import { BoatPage, BoatView } from '../../src/contract/boats.js'
import { MemberPage } from '../../src/contract/organisations.js'
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

/** A phone's own: it keeps keys, and knows its holder. */
const FINGER_READER = {
  protocol: 'ctap2',
  transport: 'internal',
  hasResidentKey: true,
  hasUserVerification: true,
  automaticPresenceSimulation: true,
} as const

const SET_UP_LIMIT_MS = 360_000
const TEST_LIMIT_MS = 180_000
const TODAY = new Date().toISOString().slice(0, 10)
/** A page that is fetched on a machine that does other work too. */
const SOON = { timeout: 30_000 }

describe.skipIf(!isBrowserWanted)('owners, settings, people and set-up', { timeout: TEST_LIMIT_MS }, () => {
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

  async function enter(viewport: { width: number; height: number }, role: string, path = '/'): Promise<WatchedPage> {
    const watched = await openPage(browser, viewport)
    await watched.page.goto(`${service.address}/sign-in`)
    await watched.page.getByRole('button', { name: `Look as ${role}` }).click()
    await watched.page.waitForURL((url) => !url.pathname.startsWith('/sign-in'), SOON)
    if (path !== '/') await watched.page.goto(service.address + path)
    return watched
  }

  /** Under which names the browser holds what it has read; the app's store is looked into where there is one, and not made. */
  const heldIn = (page: Page) =>
    page.evaluate(async () => {
      const known = await indexedDB.databases()
      if (!known.some(({ name }) => name === 'anode-ledger')) return []
      return new Promise<string[]>((resolve, reject) => {
        const opening = indexedDB.open('anode-ledger')
        opening.onerror = () => reject(opening.error)
        opening.onsuccess = () => {
          const keys = opening.result.transaction('held').objectStore('held').getAllKeys()
          keys.onsuccess = () => {
            opening.result.close()
            resolve(keys.result.map(String))
          }
        }
      })
    })

  /** What axe-core finds in both colours. */
  async function violations(page: Page): Promise<string[]> {
    const found: string[] = []
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme })
      found.push(...(await seriousViolations(page)).map((line) => `${colorScheme} ${line}`))
    }
    return found
  }

  const choose = async (page: Page, name: string) => {
    await page.getByRole('radio', { name }).click()
    await expect.poll(() => page.getByRole('radio', { name }).isChecked(), SOON).toBe(true)
  }

  const isWide = (page: Page) =>
    page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth)

  it.each([
    ['a phone', PHONE],
    ['a desk', DESK],
  ] as const)('leads an owner to their boats on %s: when, what to order, how sure, what was found', async (_, size) => {
    const { page, complaints, close } = await enter(size, 'owner')
    await page.waitForURL('**/yours', SOON)
    const all = BoatPage.parse(await service.get('/v1/boats?limit=200')).items
    await page.locator('.your-boat').first().waitFor(SOON)
    const shown = await page.locator('.your-boat h2').allTextContents()
    expect(shown.length).toBeGreaterThan(0)
    const [owner] = all.filter(({ name }) => name === shown[0]).map(({ ownerEmail }) => ownerEmail)
    expect(shown.toSorted()).toEqual(
      all
        .filter(({ ownerEmail }) => ownerEmail === owner)
        .map(({ name }) => name)
        .toSorted(),
    )
    for (const heading of ['When', 'What to order', 'How sure', 'What was found', 'Last photos']) {
      await expect.poll(() => page.getByRole('heading', { name: heading }).count(), SOON).toBe(shown.length)
    }
    expect(await page.locator('.your-boat form, .your-boat input').count()).toBe(0)
    expect(await isWide(page)).toBe(false)
    expect(await violations(page)).toEqual([])
    expect(complaints).toEqual([])
    await close()
  })

  it('keeps language and unit on this device and on the next', async () => {
    const { page, complaints, close } = await enter(PHONE, 'owner', '/settings')
    await page.getByLabel('Language', { exact: true }).first().selectOption('de')
    await page.getByRole('heading', { name: 'Einstellungen', level: 1 }).waitFor(SOON)
    await choose(page, 'oz')
    await page.getByText('Eine Anode von 1250 g steht da als 44,1 oz.').waitFor(SOON)
    expect(await page.locator('html').getAttribute('lang')).toBe('de')
    expect(await isWide(page)).toBe(false)
    expect(await violations(page)).toEqual([])
    await page.goto(`${service.address}/yours`)
    await page.getByRole('heading', { name: 'Wann' }).first().waitFor(SOON)
    await expect.poll(() => page.locator('.your-boat-order').first().textContent(), SOON).toMatch(/ oz /)
    const next = await enter(DESK, 'owner', '/settings')
    await next.page.getByRole('heading', { name: 'Einstellungen', level: 1 }).waitFor(SOON)
    await next.page.getByLabel('Sprache', { exact: true }).first().selectOption('device')
    await next.page.getByRole('heading', { name: 'Settings', level: 1 }).waitFor(SOON)
    await choose(next.page, 'g, kg')
    await next.page.getByText('Saved.').waitFor(SOON)
    expect([...complaints, ...next.complaints]).toEqual([])
    await next.close()
    await close()
  })

  it('signs a lost phone out from another device, and then everywhere', async () => {
    const lost = await enter(PHONE, 'staff')
    const mine = await enter(DESK, 'staff', '/settings')
    const devices = mine.page.locator('.settings-list li')
    await expect.poll(() => devices.count(), SOON).toBe(2)
    await mine.page.getByText('This device', { exact: true }).waitFor()
    expect(await violations(mine.page)).toEqual([])
    await mine.page.getByRole('button', { name: 'Sign out Chrome on Linux' }).click()
    await expect.poll(() => devices.count(), SOON).toBe(1)
    await lost.page.goto(`${service.address}/settings`)
    await lost.page.waitForURL('**/sign-in?then=*', SOON)
    await mine.page.getByRole('button', { name: 'Sign out everywhere', exact: true }).click()
    await mine.page.getByRole('button', { name: 'Yes, sign out everywhere' }).click()
    await mine.page.waitForURL('**/sign-in', SOON)
    await mine.page.goto(`${service.address}/settings`)
    await mine.page.waitForURL('**/sign-in?then=*', SOON)
    await lost.close()
    await mine.close()
  })

  it('shows whoever signs in nothing that was held for somebody whose session ran out', async () => {
    const { page, close } = await enter(PHONE, 'staff', '/lift')
    await expect.poll(() => heldIn(page), SOON).toContain('boat names')
    await page.context().clearCookies()
    await page.goto(`${service.address}/sign-in`)
    await page.getByRole('button', { name: 'Look as owner' }).click()
    await page.waitForURL('**/yours', SOON)
    expect(await heldIn(page)).toEqual([])
    await close()
  })

  it('adds berths and a boat by form, and asks before it changes what is there', async () => {
    const { page, complaints, close } = await enter(PHONE, 'manager', '/set-up/fleet')
    const add = page.getByRole('button', { name: 'Add these berths' })
    await page.getByLabel('Which berths?').fill('Y1–Y24, Y9–X2')
    await page.getByText('Not understood: Y9–X2').waitFor(SOON)
    expect(await add.isDisabled()).toBe(true)
    expect(await isWide(page)).toBe(false)
    expect(await violations(page)).toEqual([])
    await page.getByLabel('Which berths?').fill('Y1–Y24')
    await page.getByText('24 berths: Y1 … Y24').waitFor()
    await page.getByLabel('Pontoon').fill('Yew')
    await add.click()
    await page.getByText('Added.').waitFor(SOON)
    const { items } = BerthPage.parse(await service.get('/v1/berths?pontoon=Yew&limit=200'))
    expect(items.length).toBe(24)
    await page.getByLabel('Which berths?').fill('Y1')
    await page.getByLabel('Water').selectOption('salt')
    await add.click()
    await page.getByRole('button', { name: 'No, leave it' }).click({ timeout: 30_000 })
    expect(BerthPage.parse(await service.get('/v1/berths?pontoon=Yew&water=salt')).items).toEqual([])
    await page.getByLabel('Name', { exact: true }).fill('Yewberry')
    await page.getByLabel('Berth', { exact: true }).selectOption('Y7')
    await page.getByRole('button', { name: 'Add this boat' }).click()
    await page.getByText('Added.').waitFor(SOON)
    expect(BoatView.parse(await service.get('/v1/boats/Yewberry')).currentBerth).toBe('Y7')
    expect(complaints).toEqual([])
    await close()
  })

  it('adds the anodes of a boat by form, one after the other, each refusal at its field', async () => {
    const { page, complaints, close } = await enter(PHONE, 'manager', '/set-up/fleet')
    await page.getByLabel('Name', { exact: true }).fill('Yewtern')
    await page.getByRole('button', { name: 'Add this boat' }).click()
    const form = page.getByRole('form', { name: 'Anodes of a boat' })
    await expect.poll(() => form.getByLabel('Boat', { exact: true }).inputValue(), SOON).toBe('Yewtern')
    const add = form.getByRole('button', { name: 'Add this anode' })
    const name = form.getByLabel('Name of the anode')
    const mass = form.getByLabel('Mass when new, g')
    const fittedOn = `${Number(TODAY.slice(0, 4)) - 1}-04-18`

    await form.getByLabel('Where it sits').selectOption('shaft')
    await expect.poll(() => name.inputValue(), SOON).toBe('shaft')
    await form.getByLabel('Alloy').selectOption('zinc')
    await form.getByLabel('Shape').selectOption('shaft collar')
    await form.getByLabel('Fitted on').fill(fittedOn)
    await mass.fill('0')
    await add.click()
    await form.getByText('Not added: mend what is marked.').waitFor(SOON)
    expect(await mass.getAttribute('aria-invalid')).toBe('true')
    const reason = (await mass.getAttribute('aria-describedby'))?.split(' ').at(-1)
    expect(await form.locator(`[id="${reason}"]`).textContent()).toMatch(/above 0/)
    expect(await isWide(page)).toBe(false)
    expect(await violations(page)).toEqual([])
    await mass.fill('1250')
    await add.click()
    await form.getByRole('heading', { name: '1 anode on Yewtern' }).waitFor(SOON)

    await form.getByLabel('Where it sits').selectOption('shaft')
    await expect.poll(() => name.inputValue(), SOON).toBe('shaft 2')
    await mass.fill('905,5')
    await add.click()
    await form.getByRole('heading', { name: '2 anodes on Yewtern' }).waitFor(SOON)
    const { items } = AnodePage.parse(await service.get('/v1/boats/Yewtern/anodes?sort=name'))
    expect(items).toMatchObject([
      { name: 'shaft', position: 'shaft', alloy: 'zinc', shape: 'shaft collar', grossMassG: 1250, fittedOn },
      { name: 'shaft 2', position: 'shaft', positionSlot: 2, alloy: 'zinc', shape: null, grossMassG: 905.5, fittedOn },
    ])
    expect(await isWide(page)).toBe(false)
    // What was refused above stands on the console of the browser.
    expect(complaints.filter((complaint) => !complaint.includes('422'))).toEqual([])
    await close()
  })

  it('leads from a boat without an anode to the form, for whoever may add them', async () => {
    await service.post('/v1/boats', { name: 'Yew Rail' })
    const { page, close } = await enter(DESK, 'manager', '/boats/Yew%20Rail')
    await page.getByRole('link', { name: 'Add its anodes' }).click(SOON)
    const boat = page.getByRole('form', { name: 'Anodes of a boat' }).getByLabel('Boat', { exact: true })
    await expect.poll(() => boat.inputValue(), SOON).toBe('Yew Rail')
    const heading = page.getByRole('heading', { name: 'Anodes of a boat' })
    await expect.poll(() => heading.evaluate((it) => it === document.activeElement), SOON).toBe(true)
    await close()
    const other = await enter(PHONE, 'staff', '/boats/Yew%20Rail')
    await other.page.getByText('No anode is on record for this boat.').waitFor(SOON)
    expect(await other.page.getByRole('link', { name: 'Add its anodes' }).count()).toBe(0)
    await other.close()
  })

  it('takes files, has wrong cells mended in place and loads them; then prints a label that a phone can read', async () => {
    const { page, close } = await enter(DESK, 'manager', '/set-up/fleet')
    await page.getByRole('radio', { name: 'By files' }).check()
    const text = 'boat,hull,launched_year\nYew Heron,plastic,1999\nYew Wren,grp,2004\n'
    await page.getByLabel('Drop CSV files here').setInputFiles([
      { name: 'boats.csv', mimeType: 'text/csv', buffer: Buffer.from(text) },
      { name: 'letters.csv', mimeType: 'text/csv', buffer: Buffer.from('a\n') },
    ])
    await page.getByText('“letters.csv” is none of the files').waitFor(SOON)
    await page.getByRole('button', { name: 'Check', exact: true }).click()
    await page.getByRole('heading', { name: '1 thing to mend' }).waitFor(SOON)
    expect(await violations(page)).toEqual([])
    const cell = page.getByLabel('hull in line 2')
    expect(await cell.getAttribute('aria-invalid')).toBe('true')
    expect(await page.locator('.set-up-table tbody tr').count()).toBe(1)
    await cell.fill('grp')
    await page.getByRole('button', { name: 'Check again' }).click()
    await page.getByText('boats.csv: 2 new, 0 changed, 0 as before').waitFor(SOON)
    await page.getByRole('button', { name: 'Load it' }).click()
    await page.getByText('Loaded.').waitFor(SOON)
    expect(BoatView.parse(await service.get('/v1/boats/Yew%20Heron'))).toMatchObject({
      hull: 'grp',
      launchedYear: 1999,
    })

    await page.goto(`${service.address}/set-up/labels`)
    const label = page.locator('.label-one', { hasText: 'Yew Heron' })
    await label.waitFor(SOON)
    expect(await violations(page)).toEqual([])
    const { data, info } = await sharp(await label.screenshot())
      .ensureAlpha()
      .raw()
      .toBuffer({ resolveWithObject: true })
    const read = decodeQr({ width: info.width, height: info.height, data: new Uint8Array(data) })
    expect(read).toMatch(/^https?:\/\/[^/]+\/lift\/Yew%20Heron$/)
    await close()
  })

  it('lets an administrator invite, change a role, and make a key that is shown once and taken back', async () => {
    const { page, close } = await enter(DESK, 'manager', '/settings/people')
    await page.getByText('People and keys are for administrators.').waitFor(SOON)
    await becomeAdministrator()
    await page.reload()
    await page.getByLabel('E-mail address', { exact: true }).fill('new.hand@example.org')
    await page.getByRole('button', { name: 'Invite' }).click()
    await page.getByText('new.hand@example.org is invited.').waitFor(SOON)
    await page.getByLabel('Role of new.hand@example.org').selectOption('manager')
    const roleOfNew = async () =>
      MemberPage.parse(await service.get('/v1/members')).items.find(({ email }) => email.startsWith('new.hand'))?.role
    await expect.poll(roleOfNew, SOON).toBe('manager')
    await page.getByRole('button', { name: 'Remove new.hand@example.org' }).click()
    await page.getByRole('button', { name: 'Yes, remove' }).click()
    await expect.poll(roleOfNew, SOON).toBeUndefined()

    await page.getByLabel('What is it for?').fill('Lift scale')
    await page.getByLabel('May do').selectOption('read')
    await page.getByRole('button', { name: 'Make a key' }).click()
    const secret = (await page.locator('.settings-secret code').textContent(SOON)) ?? ''
    const status = async () =>
      (await fetch(`${service.address}/v1/me`, { headers: { authorization: `Bearer ${secret}` } })).status
    expect(await status()).toBe(200)
    expect(await violations(page)).toEqual([])
    await page.getByRole('button', { name: 'I have it' }).click()
    await page.getByRole('button', { name: 'New secret for Lift scale' }).click()
    await page.getByText('This is the new secret of “Lift scale”.').waitFor(SOON)
    const renewed = (await page.locator('.settings-secret code').textContent(SOON)) ?? ''
    expect(renewed).not.toBe(secret)
    expect(await status()).toBe(200)
    await page.getByText(/the secret before it, .* opens until/).waitFor(SOON)
    expect(await violations(page)).toEqual([])
    await page.getByRole('button', { name: 'I have it' }).click()
    await page.getByRole('button', { name: 'Revoke Lift scale' }).click()
    await page.getByRole('button', { name: 'Yes, revoke' }).click()
    await expect.poll(status, SOON).toBe(401)
    expect(await page.getByText(secret).count()).toBe(0)

    await page.goto(`${service.address}/settings`)
    await page.getByRole('link', { name: 'Status' }).click(SOON)
    await page.getByText(/\d+ anodes on \d+ boats/).waitFor(SOON)
    await page.getByRole('row', { name: /^Forecasts made anew/ }).waitFor(SOON)
    expect(await isWide(page)).toBe(false)
    await page.setViewportSize(PHONE)
    expect(await isWide(page)).toBe(false)
    expect(await violations(page)).toEqual([])
    await close()
  })

  /** The manager's session is an administrator's from the next request on. */
  async function becomeAdministrator(): Promise<void> {
    const members = MemberPage.parse(await service.get('/v1/members')).items
    const manager = members.find(({ role }) => role === 'manager')
    if (!manager) throw new Error('the demo has no manager')
    await service.remove(`/v1/members/${manager.id}`, manager.version)
    await service.post('/v1/members', { email: manager.email, role: 'administrator' })
  }

  it.each([
    ['a phone', PHONE],
    ['a desk', DESK],
  ] as const)('signs somebody in by a passkey of %s, until it is removed', async (_, size) => {
    const { page, complaints, close } = await enter(size, 'staff', '/settings')
    const devtools = await page.context().newCDPSession(page)
    await devtools.send('WebAuthn.enable')
    const { authenticatorId } = await devtools.send('WebAuthn.addVirtualAuthenticator', { options: FINGER_READER })
    const recognises = (isUserVerified: boolean) =>
      devtools.send('WebAuthn.setUserVerified', { authenticatorId, isUserVerified })
    const add = page.getByRole('button', { name: 'Add a passkey on this device' })

    await recognises(false)
    await add.click()
    await page.getByText('Nothing was added').waitFor(SOON)
    await recognises(true)
    await add.click()
    await page.getByText('not used yet').waitFor(SOON)
    await add.click()
    await page.getByText('This device has a passkey for you already.').waitFor(SOON)
    expect(await isWide(page)).toBe(false)
    expect(await violations(page)).toEqual([])

    await page.context().clearCookies()
    await page.goto(`${service.address}/sign-in?then=/settings`)
    const door = page.getByRole('button', { name: 'Sign in with a passkey' })
    await door.waitFor(SOON)
    expect(await isWide(page)).toBe(false)
    expect(await violations(page)).toEqual([])
    await recognises(false)
    await door.click()
    await page.getByText('Nobody was signed in').waitFor(SOON)
    await recognises(true)
    await door.click()
    await page.waitForURL('**/settings', SOON)
    await page
      .getByText(/last used /)
      .first()
      .waitFor(SOON)

    await page.getByRole('button', { name: /^Remove the passkey of / }).click()
    await page.getByText('You have none yet.').waitFor(SOON)
    await page.context().clearCookies()
    await page.goto(`${service.address}/sign-in`)
    await door.click()
    await page.getByText('This passkey is not known here any more.').waitFor(SOON)
    // What was refused above stands on the console of the browser.
    expect(complaints.filter((complaint) => !complaint.includes('422'))).toEqual([])
    await close()
  })
})
