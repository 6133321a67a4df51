import { connect } from 'node:net'
import type { FastifyInstance } from 'fastify'

/** Where the service listens, started for the purpose if it was not. */
export async function portOf(app: FastifyInstance): Promise<number> {
  if (!app.server.listening) await app.listen({ port: 0, host: '127.0.0.1' })
  const address = app.server.address()
  if (address === null || typeof address === 'string') throw new Error('the service listens on no port')
  return address.port
}

export interface RawAnswer {
  /** All that came back, as it came. */
  readonly text: string
  readonly tookMs: number
}

/** Bytes as no client would write them; ends when the service closes the connection. */
export function sendRaw(port: number, bytes: string | Buffer): Promise<RawAnswer> {
  return new Promise((resolve, reject) => {
    const started = Date.now()
    const socket = connect(port, '127.0.0.1', () => socket.write(bytes))
    let text = ''
    socket.on('data', (chunk) => {
      text += chunk.toString('latin1')
    })
    socket.on('error', reject)
    socket.on('close', () => resolve({ text, tookMs: Date.now() - started }))
  })
}

/** Status and body of one answer of a connection that was closed after it. */
export function readRaw(text: string) {
  const [head = '', body = ''] = text.split('\r\n\r\n', 2)
  const headers = Object.fromEntries(
    head
      .split('\r\n')
      .slice(1)
      .map((line) => [line.split(':', 1)[0]?.toLowerCase() ?? '', line.slice(line.indexOf(':') + 1).trim()]),
  )
  return { statusCode: Number(head.split(' ')[1]), headers, json: (): unknown => JSON.parse(body) }
}

/** How many answers came over a connection. */
export const answersIn = (text: string): number => text.match(/^HTTP\/1\.1 \d{3}/gm)?.length ?? 0
