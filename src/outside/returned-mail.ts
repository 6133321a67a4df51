import { type Attachment, simpleParser } from 'mailparser'

/**
 * What came back of a letter. `refused`: its address will not have any, for good. `failed`: this letter did not arrive, another may.
 * `delayed`: still on its way. `complaint`: its reader called it unwanted.
 */
export interface ReturnedMail {
  readonly kind: 'refused' | 'failed' | 'delayed' | 'complaint'
  /** Of the letter that came back, without the angle brackets; `null` where the report does not show it. */
  readonly messageId: string | null
  /** What the other side said, in one line. */
  readonly said: string
}

/**
 * Details of a permanent failure that are about the address and stay (RFC 3463, 3.2 and 3.3; RFC 7505 for 1.10): unknown mailbox,
 * unknown domain, no address, moved without a new one, takes no mail, disabled. A full mailbox (2.2) or a policy (7.x) is not.
 */
const OF_ADDRESS: readonly string[] = ['1.1', '1.2', '1.3', '1.6', '1.10', '2.1']
const LONGEST_SAYING = 300
/**
 * Groups of a report that are looked at. A letter has one recipient, whose group is the second (RFC 3464, 2.1); whoever writes to the mailbox
 * may send a report of half a million, each of which costs a parser of its own.
 */
const MOST_GROUPS = 10
const MESSAGE_ID = /^message-id:\s*<([^<>\s]+)>/im

/**
 * Reads a delivery status notification (RFC 3464) or a complaint (RFC 5965).
 *
 * @param raw the mail as it came
 * @returns `null` for any other mail, or one that tells of a delivery
 */
export async function readReturnedMail(raw: Buffer): Promise<ReturnedMail | null> {
  const attachments = await attachmentsOf(raw)
  const messageId = idOfReturned(attachments)
  const complaint = partOf(attachments, 'message/feedback-report')
  if (complaint !== undefined) {
    const [fields] = await fieldsOf(complaint)
    const type = fields?.get('feedback-type') ?? ''
    // Those who take back a complaint (RFC 6430: not-spam) want their letters.
    return /^(abuse|fraud|opt-out)/i.test(type) ? { kind: 'complaint', messageId, said: `complaint: ${type}` } : null
  }
  const status = partOf(attachments, 'message/delivery-status')
  if (status === undefined) return null
  const recipients = (await fieldsOf(status)).filter((fields) => fields.has('action'))
  // A letter of this service has one recipient.
  const [fields] = recipients
  return fields === undefined ? null : outcomeOf(fields, messageId)
}

/** None where the parser gives up on a mail (too many parts): anybody may write one, and it is about no letter. */
async function attachmentsOf(raw: Buffer): Promise<readonly Attachment[]> {
  try {
    return (await simpleParser(raw, { keepDeliveryStatus: true, skipTextToHtml: true })).attachments
  } catch {
    return []
  }
}

type Fields = ReadonlyMap<string, string>

function outcomeOf(fields: Fields, messageId: string | null): ReturnedMail | null {
  const action = fields.get('action')?.toLowerCase() ?? ''
  const [group = '', ...detail] = (fields.get('status') ?? '').trim().split(/[\s(]/, 1)[0]!.split('.')
  const diagnostic = (fields.get('diagnostic-code') ?? '').replace(/^\s*smtp\s*;\s*/i, '')
  const said = (diagnostic || `status ${[group, ...detail].join('.')}`).replace(/\s+/g, ' ').slice(0, LONGEST_SAYING)
  if (action === 'delayed') return { kind: 'delayed', messageId, said }
  if (action !== 'failed') return null
  const isOfAddress = group === '5' && OF_ADDRESS.includes(detail.join('.'))
  return { kind: isOfAddress ? 'refused' : 'failed', messageId, said }
}

function partOf(attachments: readonly Attachment[], type: string): Buffer | undefined {
  return attachments.find(({ contentType }) => contentType === type)?.content
}

/** The letter itself or its header stands in the report's last part. */
function idOfReturned(attachments: readonly Attachment[]): string | null {
  const returned =
    partOf(attachments, 'message/rfc822') ??
    partOf(attachments, 'text/rfc822-headers') ??
    partOf(attachments, 'message/global') ??
    partOf(attachments, 'message/global-headers')
  return returned?.toString('utf8').match(MESSAGE_ID)?.[1] ?? null
}

/** Groups of fields, parted by an empty line: of the message first, then one a recipient (RFC 3464, 2.1). */
async function fieldsOf(part: Buffer): Promise<Fields[]> {
  const groups = part
    .toString('utf8')
    .trim()
    .split(/\r?\n[ \t]*\r?\n/, MOST_GROUPS)
  return Promise.all(
    groups.map(async (group) => {
      const { headerLines } = await simpleParser(`${group}\r\n\r\n`)
      return new Map(headerLines.map(({ key, line }) => [key, line.slice(line.indexOf(':') + 1).trim()]))
    }),
  )
}
