import { parseConnectionUrl } from 'nodemailer/lib/shared'
import SMTPConnection from 'nodemailer/lib/smtp-connection'

/** Letters before the @ that are not ASCII need the extension SMTPUTF8 (RFC 6531); a domain is written in ASCII without it (RFC 5891). */
export function needsUtf8(address: string): boolean {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: all of ASCII is meant
  return /[^\u0000-\u007f]/.test(address.slice(0, address.lastIndexOf('@')))
}

/** A server without the extension, to an address that needs it: the library would send the address all the same. */
export class NoUtf8 extends Error {
  /** As the library marks what is wrong with a recipient. */
  readonly code = 'EENVELOPE'

  constructor() {
    super('the mail server does not take addresses that are not ASCII (it lacks SMTPUTF8, RFC 6531)')
    this.name = 'NoUtf8'
  }
}

/** Whether a mail server offers SMTPUTF8, by its answer to EHLO. */
export function offersUtf8(url: string, timeouts: SMTPConnection.Options): Promise<boolean> {
  return new Promise((resolve, reject) => {
    const connection = new SMTPConnection({ ...parseConnectionUrl(url), ...timeouts })
    connection.once('error', reject)
    connection.connect(() => {
      const { lastServerResponse } = connection
      connection.quit()
      resolve(/^250[- ]SMTPUTF8\b/im.test(String(lastServerResponse)))
    })
  })
}
