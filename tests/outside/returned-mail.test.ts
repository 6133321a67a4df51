import { describe, expect, it } from 'vitest'
import { readReturnedMail } from '../../src/outside/returned-mail.js'

const ID = 'notice.2f0f0e4e-6c1d-4b61-9a42-1f0a8e7f2b11@ledger.example'

const returned = (type: string) => `Content-Type: ${type}

From: Yard <yard@example.org>
To: owner@example.org
Subject: anodes due
Message-ID: <${ID}>
References: <boat.1@ledger.example>
`

/** A report in the shape of RFC 3464, appendix E, with another letter in it. */
function report(status: string, lastPart = returned('message/rfc822')): Buffer {
  return Buffer.from(
    `Date: Thu, 7 Jul 1994 17:16:05 -0400
From: Mail Delivery Subsystem <MAILER-DAEMON@mail.example>
Message-Id: <199407072116.RAA14128@mail.example>
Subject: Returned mail: Cannot send message for 5 days
To: <yard@example.org>
MIME-Version: 1.0
Content-Type: multipart/report; report-type=delivery-status;
      boundary="RAA14128.773615765/mail.example"

--RAA14128.773615765/mail.example

The original message was received at Sat, 2 Jul 1994 17:10:28 -0400

--RAA14128.773615765/mail.example
content-type: message/delivery-status

Reporting-MTA: dns; mail.example

${status}

--RAA14128.773615765/mail.example
${lastPart}
--RAA14128.773615765/mail.example--
`.replaceAll('\n', '\r\n'),
  )
}

/** RFC 3464, appendix E.1, from memory but for the names. */
const NOT_SENT = `Original-Recipient: rfc822;owner@example.org
Final-Recipient: rfc822;owner@example.org
Action: failed
Status: 4.0.0
Diagnostic-Code: smtp; 426 connection timed out
Last-Attempt-Date: Thu, 7 Jul 1994 17:15:49 -0400`

/** RFC 3464, appendix E.3: a delay. From memory. */
const DELAYED = `Final-Recipient: rfc822;owner@example.org
Action: delayed
Status: 4.4.1 (No answer from host)
Will-Retry-Until: Thu, 7 Jul 1994 17:10:28 -0400`

const failed = (
  status: string,
  code = 'smtp; 550 5.1.1 <owner@example.org>: no\r\n such user',
) => `Final-Recipient: rfc822; owner@example.org
Action: failed
Status: ${status}
Diagnostic-Code: ${code}`

describe('mail that came back', () => {
  it('tells of the letter that it is about and what was said', async () => {
    expect(await readReturnedMail(report(failed('5.1.1')))).toEqual({
      kind: 'refused',
      messageId: ID,
      said: '550 5.1.1 <owner@example.org>: no such user',
    })
  })

  it('was given up after days: another letter may arrive', async () => {
    expect(await readReturnedMail(report(NOT_SENT))).toEqual({
      kind: 'failed',
      messageId: ID,
      said: '426 connection timed out',
    })
  })

  it('may still be on its way', async () => {
    expect(await readReturnedMail(report(DELAYED))).toEqual({ kind: 'delayed', messageId: ID, said: 'status 4.4.1' })
  })

  it.each([
    ['5.1.1', 'refused'],
    ['5.1.2', 'refused'],
    ['5.1.10', 'refused'],
    ['5.2.1', 'refused'],
    ['5.2.2', 'failed'],
    ['5.7.1', 'failed'],
    ['5.3.4', 'failed'],
    ['5.0.0', 'failed'],
    ['4.1.1', 'failed'],
  ])('with the status %s is %s', async (status, kind) => {
    expect(await readReturnedMail(report(failed(status)))).toMatchObject({ kind })
  })

  it('may bear the letter’s header alone, or nothing of it', async () => {
    const header = await readReturnedMail(report(failed('5.1.1'), returned('text/rfc822-headers')))
    expect(header).toMatchObject({ kind: 'refused', messageId: ID })
    const nothing = await readReturnedMail(report(failed('5.1.1'), 'Content-Type: text/plain\n\nnothing\n'))
    expect(nothing).toMatchObject({ kind: 'refused', messageId: null })
  })

  it('is not what tells of a delivery, nor an ordinary letter, nor no letter at all', async () => {
    expect(await readReturnedMail(report(failed('2.1.5').replace('failed', 'delivered')))).toBeNull()
    expect(
      await readReturnedMail(Buffer.from(`Subject: hello\r\nMessage-ID: <${ID}>\r\n\r\nAction: failed\r\n`)),
    ).toBeNull()
    expect(await readReturnedMail(Buffer.from([0, 255, 13, 10, 200, 1]))).toBeNull()
    expect(await readReturnedMail(Buffer.alloc(0))).toBeNull()
  })

  it('may be a complaint of its reader (RFC 5965, appendix B)', async () => {
    const complaint = (type: string) =>
      Buffer.from(
        `From: <abusedesk@example.com>
Subject: FW: anodes due
To: <abuse@example.net>
MIME-Version: 1.0
Content-Type: multipart/report; report-type=feedback-report;
     boundary="part1_13d.2e68ed54_boundary"

--part1_13d.2e68ed54_boundary
Content-Type: text/plain; charset="US-ASCII"
Content-Transfer-Encoding: 7bit

This is an email abuse report.

--part1_13d.2e68ed54_boundary
Content-Type: message/feedback-report

Feedback-Type: ${type}
User-Agent: SomeGenerator/1.0
Version: 1

--part1_13d.2e68ed54_boundary
${returned('message/rfc822')}
--part1_13d.2e68ed54_boundary--
`.replaceAll('\n', '\r\n'),
      )
    expect(await readReturnedMail(complaint('abuse'))).toEqual({
      kind: 'complaint',
      messageId: ID,
      said: 'complaint: abuse',
    })
    expect(await readReturnedMail(complaint('not-spam'))).toBeNull()
  })

  // Anybody may write to the mailbox that is handed on.
  it('costs no more for a report of a hundred thousand recipients: it is about the first', async () => {
    const others = 'Action: failed\n\n'.repeat(100_000)
    const begun = performance.now()
    expect(await readReturnedMail(report(`${DELAYED}\n\n${others}`))).toMatchObject({ kind: 'delayed', messageId: ID })
    expect(performance.now() - begun).toBeLessThan(5_000)
  })

  it('is about no letter where it has more parts than are read', async () => {
    const parts = '--b\nContent-Type: message/delivery-status\n\nAction: failed\n'.repeat(5_000)
    const raw = Buffer.from(`Content-Type: multipart/report; boundary="b"\n\n${parts}--b--\n`)
    expect(await readReturnedMail(raw)).toBeNull()
  })
})
