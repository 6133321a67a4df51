import { eq } from 'drizzle-orm'
import type { ParsedMail } from 'mailparser'
import { simpleParser } from 'mailparser'
import sharp from 'sharp'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
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
/** An administrator who signed in, where the other is a program. */
let person: Ask
let now = new Date('2026-03-25T12:00:00Z')

/** From the first letter on, the service's mail goes to the real conversation below. */
let mail: Mail = { send: async () => {} }
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
  server = await startTestServer({
    now: () => now,
    mail: {
      send: (message) => {
        server.letters.push(message)
        return mail.send(message)
      },
    },
  })
  await importFleet(server, fleetFiles('owner@example.org'))
  await refitNow(server, () => now)
  administrator = askAs(server, await server.actorOf('administrator'))
  person = askAs(server, await server.signIn('administrator@example.org'))
  mail = smtpMail(`smtp://${smtp.host}`, 'Yard <yard@example.org>')
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
      if (language !== 'en') expect(text).not.toMatch(/\b(the|due|paint)\b|\((shaft|hull)\)/i)
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

  describe('to an address that is no ASCII', () => {
    const rename = (to: string, from: string) =>
      server.database.db.update(owners).set({ email: to }).where(eq(owners.email, from))
    beforeEach(async () => void (await rename('möwe@example.org', 'owner@example.org')))
    afterEach(async () => {
      mail = smtpMail(`smtp://${smtp.host}`, 'Yard <yard@example.org>')
      await rename('owner@example.org', 'möwe@example.org')
    })

    it('gives the letter where the server knows such (RFC 6531)', async () => {
      const letters = await lettersFrom('2026-06-19')
      expect(await log('möwe@example.org')).toMatchObject({ state: 'sent', failure: null })
      expect(to(letters, 'möwe@example.org')).toHaveLength(1)
    })

    it('says so where it does not, and sends nothing astray', async () => {
      const older = await startMailServer((letter) => void raw.push(letter), { ...OPEN_TO_ALL, hideSMTPUTF8: true })
      mail = smtpMail(`smtp://${older.host}`, 'Yard <yard@example.org>')
      try {
        const letters = await lettersFrom('2026-06-20')
        const item = await log('möwe@example.org')
        expect(item).toMatchObject({ state: 'refused', failure: expect.stringContaining('SMTPUTF8') })
        expect(to(letters, 'möwe@example.org')).toEqual([])
      } finally {
        await older.close()
      }
    })
  })
})

describe('the link to the boat', () => {
  const open = (token: string) =>
    server.app.inject({
      method: 'POST',
      url: `/v1/letters/${token}/open`,
      headers: { origin: 'http://localhost:3000', 'content-type': 'application/json' },
      payload: '{}',
    })
  const tokenIn = (letter: ParsedMail) => letter.text!.match(/\/letters\/open\/(\S+)/)![1]!
  const isSignedIn = ({ cookies }: Awaited<ReturnType<typeof open>>) => cookies.length > 0

  it('signs an owner in for a month, and nobody who works with a fleet', async () => {
    const [letter] = to(await lettersFrom('2026-06-24'), 'owner@example.org')
    const token = tokenIn(letter!)
    const opened = await open(token)
    expect(opened.json().page).toMatch(/^\/yours#boat-[0-9a-f-]{36}$/)
    const cookie = opened.cookies.map(({ name, value }) => `${name}=${encodeURIComponent(value)}`).join('; ')
    const me = await server.app.inject({ url: '/v1/me', headers: { cookie } })
    expect(me.json()).toMatchObject({ email: 'owner@example.org', role: 'owner' })
    const seen = await server.app.inject({ url: '/v1/boats', headers: { cookie } })
    expect(seen.json().items.map(({ name }: { name: string }) => name)).toEqual(['Boat A'])
    const askForPasskey = { method: 'POST', url: '/v1/me/passkeys/question' } as const
    const forEver = await server.app.inject({ ...askForPasskey, headers: { cookie } })
    expect([forEver.statusCode, forEver.json().code]).toEqual([409, 'by-letter'])

    await server.database.db
      .insert(members)
      .values({ organisationId: server.organisationId, email: 'owner@example.org', role: 'staff' })
    const asStaff = await open(token)
    expect(asStaff.json()).toEqual({ page: '/boats/Boat%20A' })
    expect(isSignedIn(asStaff)).toBe(false)
    // Nor whoever it signed in before, who may not be who was promoted.
    expect((await server.app.inject({ url: '/v1/me', headers: { cookie } })).statusCode).toBe(401)
    const arrived = raw.length
    const herself = await server.signIn('owner@example.org')
    // Its letter is of this test: the next one looks for its own.
    await expect.poll(() => raw.length).toBe(arrived + 1)
    expect((await server.app.inject({ url: '/v1/me', headers: herself })).json().role).toBe('staff')
    expect((await server.app.inject({ ...askForPasskey, headers: herself })).statusCode).toBe(200)
    await server.database.db.delete(members).where(eq(members.email, 'owner@example.org'))

    now = new Date('2026-07-25T12:00:00Z')
    const late = await open(token)
    expect(late.statusCode).toBe(200)
    expect(isSignedIn(late)).toBe(false)
  })

  it('cannot be made up, nor out of the letter’s other links, nor used by another site', async () => {
    const [letter] = to(await lettersFrom('2026-06-25'), 'owner@example.org')
    const token = tokenIn(letter!)
    const other = letter!.text!.match(/\/letters\/(?!open)(\S+)/)![1]!
    const [, signature] = token.split('.')
    const made = Buffer.from(JSON.stringify([server.organisationId, 'manager@example.org', null, '2099-01-01']))
    for (const wrong of [other, `${made.toString('base64url')}.${signature}`, 'x', `${token}x`])
      expect((await open(wrong)).statusCode).toBe(404)
    expect((await server.app.inject({ url: `/v1/letters/${token}` })).statusCode).toBe(404)
    const foreign = await server.app.inject({
      method: 'POST',
      url: `/v1/letters/${token}/open`,
      headers: { origin: 'https://elsewhere.example' },
    })
    expect(foreign.statusCode).toBe(403)
  })
})

describe('a mail that came back', () => {
  const report = (id: string, action: string, status: string) => `From: MAILER-DAEMON@mail.example
Content-Type: multipart/report; report-type=delivery-status; boundary="part"

--part
Content-Type: message/delivery-status

Reporting-MTA: dns; mail.example

Final-Recipient: rfc822; owner@example.org
Action: ${action}
Status: ${status}
Diagnostic-Code: smtp; 550 ${status} mailbox unknown

--part
Content-Type: text/rfc822-headers

Message-ID: <notice.${id}@localhost>

--part--
`
  const handOn = async (payload: string, credentials = 'administrator' as 'administrator' | 'staff') =>
    server.app.inject({
      method: 'POST',
      url: '/v1/notices/returned',
      headers: { ...(await server.actorOf(credentials)), 'content-type': 'message/rfc822' },
      payload,
    })

  it('ends the letters to an address that is gone, days after the server took one', async () => {
    await lettersFrom('2026-06-23')
    const sent = await log('owner@example.org')
    expect(sent.state).toBe('sent')
    const delayed = await handOn(report(sent.id, 'delayed', '4.4.1'))
    expect(delayed.json()).toEqual({ outcome: 'delayed', notice: sent.id })
    expect(await log('owner@example.org')).toMatchObject({ state: 'sent' })
    expect((await handOn(report(sent.id, 'failed', '5.1.1'))).json()).toEqual({ outcome: 'refused', notice: sent.id })
    expect(await log('owner@example.org')).toMatchObject({
      state: 'refused',
      failure: '550 5.1.1 mailbox unknown',
      sentAt: sent.sentAt,
    })
    now = new Date('2026-12-01T12:00:00Z')
    await server.services.noticeDecider.decideAll()
    expect(to(await sendAll(), 'owner@example.org')).toEqual([])
    expect((await administrator('POST', `/v1/notices/${sent.id}/retry`)).status).toBe(204)
    expect(to(await sendAll(), 'owner@example.org')).toHaveLength(1)
  })

  it('changes nothing when it is about no letter of the organisation, or no report at all', async () => {
    const stranger = '2f0f0e4e-6c1d-4b61-9a42-1f0a8e7f2b11'
    for (const mail of [
      report(stranger, 'failed', '5.1.1'),
      report("' or 1=1 --", 'failed', '5.1.1'),
      'Subject: hi\n\nhi',
    ])
      expect((await handOn(mail)).json()).toEqual({ outcome: 'none', notice: null })
    expect((await handOn('x', 'staff')).statusCode).toBe(403)
    expect((await administrator('POST', '/v1/notices/returned', { a: 1 })).status).toBe(415)
    expect((await handOn('x'.repeat(3 * 1024 * 1024))).statusCode).toBe(413)
  })
})

describe('a trial letter', () => {
  it('shows whoever asks what an owner will read, and writes to nobody else', async () => {
    now = new Date('2026-06-10T12:00:00Z')
    raw = []
    const { status, body } = await person('POST', '/v1/notices/trial', { boat: 'Boat A' })
    expect(status).toBe(200)
    expect(body).toMatchObject({ to: 'administrator@example.org', failure: null })
    expect(raw).toHaveLength(1)
    const letter = await simpleParser(raw[0]!)
    expect(letter.subject).toBe(body.subject)
    expect((letter.to as { text: string }).text).toBe('administrator@example.org')
    expect(letter.text).toContain('Boat A')
    // What its links do, they do to the reader's letters, not to the owner's.
    const link = letter.text!.match(/\/letters\/(?!open)([\w-]+)\./)![1]!
    expect(Buffer.from(link, 'base64url').toString()).not.toContain('owner@example.org')
    expect((await administrator('GET', '/v1/notices')).body.items).toEqual([])
  })

  it('says what the mail server said, which boat has no letter, and that a key has no address', async () => {
    answers['administrator@example.org'] = 550
    expect((await person('POST', '/v1/notices/trial', {})).body.failure).toContain('no such mailbox')
    const none = await person('POST', '/v1/notices/trial', { boat: 'Nobody' })
    expect(none).toMatchObject({ status: 422, body: { errors: [{ pointer: '#/boat' }] } })
    expect((await administrator('POST', '/v1/notices/trial', {})).status).toBe(403)
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
