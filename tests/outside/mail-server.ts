import { SMTPServer, type SMTPServerOptions } from 'smtp-server'

/** A mail server of a test's own, on this machine. */
export interface MailServer {
  /** Host and port. */
  readonly host: string
  close(): Promise<void>
}

/** What a connection ends with whose sender was killed. */
const CUT_OFF: ReadonlySet<string> = new Set(['ECONNRESET', 'EPIPE'])

/**
 * Starts a mail server that hands on each letter as it was sent, byte by byte.
 *
 * @param take is given each letter before the server says that it has it
 */
export async function startMailServer(
  take: (letter: Buffer) => void | Promise<void>,
  options: SMTPServerOptions = {},
): Promise<MailServer> {
  const smtp = new SMTPServer({
    ...options,
    onData: (stream, _session, done) => {
      const parts: Buffer[] = []
      stream.on('data', (part: Buffer) => parts.push(part))
      stream.on('end', () => {
        Promise.resolve(take(Buffer.concat(parts))).then(() => done(), done)
      })
    },
  })
  smtp.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === undefined || !CUT_OFF.has(error.code)) throw error
  })
  await new Promise<void>((resolve) => smtp.listen(0, '127.0.0.1', resolve))
  const address = smtp.server.address()
  if (address === null || typeof address === 'string') throw new Error('the mail server has no port')
  return { host: `127.0.0.1:${address.port}`, close: () => new Promise((resolve) => smtp.close(() => resolve())) }
}

/** Asks nobody who they are. */
export const OPEN_TO_ALL: SMTPServerOptions = { authOptional: true, disabledCommands: ['STARTTLS', 'AUTH'] }
