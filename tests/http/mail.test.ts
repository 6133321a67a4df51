import { simpleParser } from 'mailparser'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { printedMail, smtpMail } from '../../src/outside/mail.js'
import { type MailServer, startMailServer } from '../outside/mail-server.js'

/** A mail server that keeps what it is given. */
let smtp: MailServer
const received: Buffer[] = []
beforeAll(async () => {
  smtp = await startMailServer((letter) => void received.push(letter), {
    disabledCommands: ['STARTTLS'],
    onAuth: ({ username, password }, _session, done) =>
      username === 'yard' && password === 'pass word' ? done(null, { user: 'yard' }) : done(new Error('refused')),
    allowInsecureAuth: true,
  })
})
afterAll(() => smtp.close())

it('speaks with a mail server, and the letter arrives whole', async () => {
  const mail = smtpMail(`smtp://yard:pass%20word@${smtp.host}`, 'Anode Ledger <ledger@example.org>')
  const link = `http://localhost:3000/sign-in/link?token=${'a'.repeat(80)}&callbackURL=%2F`
  await mail.send({ to: 'ada@example.org', subject: 'Sign in – Schäfer', text: `Follow this link:\n\n${link}\n` })
  const letter = await simpleParser(received[0] ?? '')
  expect(letter.from?.text).toContain('ledger@example.org')
  expect(letter.to).toMatchObject({ text: 'ada@example.org' })
  expect(letter.subject).toBe('Sign in – Schäfer')
  expect(letter.text).toContain(link)
})

it('says when the mail server refuses', async () => {
  const mail = smtpMail(`smtp://yard:wrong@${smtp.host}`, 'ledger@example.org')
  await expect(mail.send({ to: 'ada@example.org', subject: 'x', text: 'y' })).rejects.toThrow()
})

it('prints the letter where there is no mail server', async () => {
  const lines: string[] = []
  await printedMail((line) => lines.push(line)).send({ to: 'ada@example.org', subject: 'Sign in', text: 'a\nlink' })
  expect(lines).toEqual(['mail to ada@example.org: Sign in', 'a', 'link'])
})
