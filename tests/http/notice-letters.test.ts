import { eq } from 'drizzle-orm'
import type { ParsedMail } from 'mailparser'
import { simpleParser } from 'mailparser'
import sharp from 'sharp'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { boats, members, notices, owners } from '../../src/db/schema/index.js'
import { LANGUAGES } from '../../src/messages/languages.js'
import { type Mail, mailFailureOf, smtpMail } from '../../src/outside/mail.js'
import { type MailServer, OPEN_TO_ALL, startMailServer } from '../outside/mail-server.js'
import { type Ask, askAs } from './ask.js'
import { refitNow } from './refitted-fleet.js'
import { startTestServer, type TestServer } from './server.js'
import { fleetFiles, importFleet } from './small-fleet.js'

/** A mail server that keeps what it takes, and says no to some. */
let smtp: MailServer
let raw: Buffer[] = []
/** By what to answer to a recipient; nothing: it is taken. */
let answers: Record<string, number> = {}
let server: TestServer
let administrator: Ask
let now = new Date('2026-03-25T12:00:00Z')

/** The service's mail goes to the real conversation below. */
let mail: Mail
const HARD = 'Möwe "Ann" <b>&amp;</b>\u202e🚤'

beforeAll(async () => {
  smtp = await startMailServer((letter) => void raw.push(letter), {
    ...OPEN_TO_ALL,
    onRcptTo: ({ address }, _session, done) => {
      const code = answers[address]
      if (code === undefined) return done()
      done(Object.assign(new Error(code < 500 ? 'try again later' : 'no such mailbox'), { responseCode: code }))
    },
  })
  mail = smtpMail(`smtp://${smtp.host}`, 'Yard <yard@example.org>')
  server = await startTestServer({ now: () => now, mail: { send: (message) => mail.send(message) } })
  await importFleet(server, fleetFiles('owner@example.org'))
  await refitNow(server, () => now)
  administrator = askAs(server, await server.actorOf('administrator'))
})
afterAll(async () => {
  await server.close()
  await smtp.close()
})
beforeEach(async () => {
  raw = []
  answers = {}
  await server.database.db.delete(notices)
})

async function lettersFrom(day: string): Promise<ParsedMail[]> {
  now = new Date(`${day}T12:00:00Z`)
  await administrator('PATCH', '/v1/reminders', { enabled: true })
  return sendAll()
}

async function sendAll(): Promise<ParsedMail[]> {
  raw = []
  while ((await server.services.noticeSender.deliverDue()) > 0);
  return Promise.all(raw.map((each) => simpleParser(each)))
}

const to = (letters: readonly ParsedMail[], address: string) =>
  letters.filter((letter) => (letter.to as { text: string }).text === address)
const log = async (address: string) =>
  (await administrator('GET', '/v1/notices')).body.items.find((each: { to: string }) => each.to === address)

describe('a letter to an owner, as a mail server takes it', () => {
  it('says in text and HTML alike when, what to order and how sure, with the plot inside and one-click unsubscribe', async () => {
    const [letter] = to(await lettersFrom('2026-06-10'), 'owner@example.org')
    expect(letter!.subject).toContain('Boat A')
    const owner = await server.services.forecasts.page(
      { organisationId: server.organisationId, actor: 'test', role: 'administrator' },
      { boat: 'Boat A', limit: 10, sort: 'recommendedOn', cursor: undefined },
    )
    const due = owner.items[0]!.recommendedOn!
    const said = new Date(due).toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' })
    for (const version of [letter!.text!.replace(/\s+/g, ' '), String(letter!.html)]) {
      expect(version).toContain(said)
      expect(version).toMatch(/1\.1 kg zinc|1 kg zinc/)
      expect(version).toContain('8 times in 10')
      expect(version).toContain('Never paint an anode')
      expect(version).toContain('nobody in the water near the boat')
    }
    const [picture] = letter!.attachments
    expect(picture).toMatchObject({ contentType: 'image/png', contentDisposition: 'inline' })
    const { width, height } = await sharp(picture!.content).metadata()
    expect([width, height]).toEqual([1136, 500])
    expect(picture!.content.length).toBeLessThan(40_000)
    const headers = letter!.headers
    expect(String(letter!.headerLines.find(({ key }) => key === 'list-unsubscribe-post')?.line)).toContain(
      'List-Unsubscribe=One-Click',
    )
    expect(String(headers.get('auto-submitted'))).toBe('auto-generated')
    expect(letter!.references).toBeDefined()
    expect(letter!.inReplyTo).toMatch(/^<boat\./)
  })

  it('cannot be made to say another thing by a name: no header, no mark-up, no other address', async () => {
    const { db } = server.database
    const rename = (name: string, from: string) => db.update(boats).set({ name }).where(eq(boats.name, from))
    await rename(HARD, 'Boat A')
    try {
      const [letter] = to(await lettersFrom('2026-06-11'), 'owner@example.org')
      // Known again under its new name, though the forecasts were issued under the old one.
      expect(letter!.subject).toContain('Möwe "Ann" <b>&amp;</b>🚤')
      expect(String(letter!.html)).toContain('Möwe &quot;Ann&quot; &lt;b&gt;&amp;amp;&lt;/b&gt;🚤')
      expect(`${letter!.subject}${letter!.text}${letter!.html}`).not.toContain('\u202e')
    } finally {
      await rename('Boat A', HARD)
    }
    await mail.send({ to: 'ada@example.org', subject: 'A\r\nBcc: eve@example.org', text: 'x' })
    const last = await simpleParser(raw.at(-1)!)
    expect(last.bcc).toBeUndefined()
    expect(last.subject).toContain('Bcc: eve@example.org')
    // It is one address, or none: this server knows no quotes, and the letter goes nowhere else.
    const taken = raw.length
    const refusal = await mail
      .send({ to: '"eve@example.org, ada"@example.org', subject: 'quoted', text: 'x' })
      .then(() => null, mailFailureOf)
    expect(refusal).toMatchObject({ kind: 'address', said: expect.stringContaining('501') })
    expect(raw.length).toBe(taken)
  })

  it.each(LANGUAGES)('speaks %s whole', async (language) => {
    await administrator('PATCH', '/v1/reminders', { language })
    const letters = await lettersFrom('2026-06-15')
    expect(letters.length).toBeGreaterThan(2)
    for (const { text, subject } of letters) {
      expect(`${subject}\n${text}`).not.toMatch(
        /\{\{|\b(subject|lead|which|order|sure|found|mind|links|digest|summary)\.\w+/,
      )
      if (language !== 'en') expect(text).not.toMatch(/\b(the|due|paint)\b/i)
    }
    await administrator('PATCH', '/v1/reminders', { language: 'en' })
  })
})

describe('the letters of the week', () => {
  it('go to managers and staff on Monday, once', async () => {
    // A Monday.
    const letters = await lettersFrom('2026-06-15')
    const [digest] = to(letters, 'manager@example.org')
    expect(digest!.text).toMatch(/boats have anodes due in the next 60 days/)
    const [lifts] = to(letters, 'staff@example.org')
    expect(lifts!.text).toContain('No lift is planned this week')
    await server.services.noticeDecider.decideAll()
    expect(await sendAll()).toEqual([])
    now = new Date('2026-08-31T12:00:00Z')
    await server.services.noticeDecider.decideAll()
    const [later] = to(await sendAll(), 'staff@example.org')
    expect(later!.text).toContain('1 September 2026: Boat A')
  })
})

describe('a mail server that says no', () => {
  it('for now is asked again later, for days, and gets the letter once', async () => {
    answers['owner@example.org'] = 451
    expect(to(await lettersFrom('2026-06-16'), 'owner@example.org')).toEqual([])
    expect(await log('owner@example.org')).toMatchObject({ state: 'waiting', attempts: 1 })
    for (let hour = 0; hour < 72; hour++) {
      now = new Date(now.getTime() + 3_600_000)
      expect(to(await sendAll(), 'owner@example.org')).toEqual([])
    }
    answers = {}
    now = new Date(now.getTime() + 24 * 3_600_000)
    expect(to(await sendAll(), 'owner@example.org')).toHaveLength(1)
    expect(to(await sendAll(), 'owner@example.org')).toEqual([])
    expect(await log('owner@example.org')).toMatchObject({ state: 'sent', failure: null })
  })

  it('that is away for three days holds nothing up and loses nothing', async () => {
    mail = smtpMail('smtp://127.0.0.1:1', 'Yard <yard@example.org>')
    await lettersFrom('2026-06-17')
    const waiting = (await administrator('GET', '/v1/notices?state=waiting&limit=200')).body.items
    expect(waiting.length).toBeGreaterThan(2)
    for (let hour = 0; hour < 72; hour += 4) {
      now = new Date(now.getTime() + 4 * 3_600_000)
      await sendAll()
    }
    mail = smtpMail(`smtp://${smtp.host}`, 'Yard <yard@example.org>')
    now = new Date(now.getTime() + 25 * 3_600_000)
    expect(await sendAll()).toHaveLength(waiting.length)
  }, 60_000)

  it('for good about an address ends its letters, until somebody tries again', async () => {
    answers['owner@example.org'] = 550
    await lettersFrom('2026-06-18')
    const refused = await log('owner@example.org')
    expect(refused).toMatchObject({ state: 'refused' })
    expect(refused.failure).toContain('no such mailbox')
    answers = {}
    expect((await administrator('POST', `/v1/notices/${refused.id}/retry`)).status).toBe(204)
    expect(to(await sendAll(), 'owner@example.org')).toHaveLength(1)
    expect((await administrator('POST', `/v1/notices/${refused.id}/retry`)).status).toBe(404)
  })

  it('takes an address that is no ASCII only where it can', async () => {
    const { db } = server.database
    await db.update(owners).set({ email: 'möwe@example.org' }).where(eq(owners.email, 'owner@example.org'))
    try {
      await lettersFrom('2026-06-19')
      const item = await log('möwe@example.org')
      expect(['sent', 'refused']).toContain(item.state)
      if (item.state === 'refused') expect(item.failure).toMatch(/Internationalized|SMTPUTF8|UTF/i)
    } finally {
      await db.update(owners).set({ email: 'owner@example.org' }).where(eq(owners.email, 'möwe@example.org'))
    }
  })
})

it('stops with the week’s letters to whoever does not want them', async () => {
  const [digest] = to(await lettersFrom('2026-06-22'), 'manager@example.org')
  const header = digest!.headerLines.find(({ key }) => key === 'list-unsubscribe')!.line
  const path = new URL(header.match(/<(.+)>/)![1]!).pathname
  const clicked = await server.app.inject({
    method: 'POST',
    url: path,
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
    payload: 'List-Unsubscribe=One-Click',
  })
  expect(clicked.statusCode).toBe(204)
  now = new Date('2026-06-29T12:00:00Z')
  await server.services.noticeDecider.decideAll()
  expect(to(await sendAll(), 'manager@example.org')).toEqual([])
  expect((await server.database.db.select().from(members)).some(({ email }) => email === 'manager@example.org')).toBe(
    true,
  )
})
