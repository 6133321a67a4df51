import { simpleParser } from 'mailparser'
import { SMTPServer } from 'smtp-server'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { printedMail, smtpMail } from '../../src/outside/mail.js'

/** A mail server that keeps what it is given. */
let smtp: SMTPServer
let url: string
const received: Buffer[] = []
beforeAll(async () => {
  smtp = new SMTPServer({
    disabledCommands: ['STARTTLS'],
    onAuth: ({ username, password }, _session, done) =>
      username === 'yard' && password === 'pass word' ? done(null, { user: 'yard' }) : done(new Error('refused')),
    allowInsecureAuth: true,
    onData: (stream, _session, done) => {
      const parts: Buffer[] = []
      stream.on('data', (part: Buffer) => parts.push(part))
      stream.on('end', () => {
        received.push(Buffer.concat(parts))
        done()
      })
    },
  })
  await new Promise<void>((resolve) => smtp.listen(0, '127.0.0.1', resolve))
  const address = smtp.server.address()
  if (address === null || typeof address === 'string') throw new Error('the mail server has no port')
  url = `127.0.0.1:${address.port}`
})
afterAll(() => new Promise<void>((resolve) => smtp.close(resolve)))

it('speaks with a mail server, and the letter arrives whole', async () => {
  const mail = smtpMail(`smtp://yard:pass%20word@${url}`, 'Anode Ledger <ledger@example.org>')
  const link = `http://localhost:3000/sign-in/link?token=${'a'.repeat(80)}&callbackURL=%2F`
  await mail.send({ to: 'ada@example.org', subject: 'Sign in – Schäfer', text: `Follow this link:\n\n${link}\n` })
  const letter = await simpleParser(received[0] ?? '')
  expect(letter.from?.text).toContain('ledger@example.org')
  expect(letter.to).toMatchObject({ text: 'ada@example.org' })
  expect(letter.subject).toBe('Sign in – Schäfer')
  expect(letter.text).toContain(link)
})

it('says when the mail server refuses', async () => {
  const mail = smtpMail(`smtp://yard:wrong@${url}`, 'ledger@example.org')
  await expect(mail.send({ to: 'ada@example.org', subject: 'x', text: 'y' })).rejects.toThrow()
})

it('prints the letter where there is no mail server', async () => {
  const lines: string[] = []
  await printedMail((line) => lines.push(line)).send({ to: 'ada@example.org', subject: 'Sign in', text: 'a\nlink' })
  expect(lines).toEqual(['mail to ada@example.org: Sign in', 'a', 'link'])
})
