import { request as httpRequest, type IncomingMessage } from 'node:http'
import type { AddressInfo } from 'node:net'
import { performance } from 'node:perf_hooks'
import type { TestServer } from '../http/server.js'
import type { Answer } from './judge.js'
import type { WireRequest } from './wire.js'

export interface SentAnswer extends Answer {
  readonly headers: Readonly<Record<string, unknown>>
}

/** No request may be without an answer for so long. */
const HANGS_MS = 30_000

/** Hands a request to the service, within the process or by a listening port. */
export async function send(server: TestServer, wire: WireRequest, overSocket: boolean): Promise<SentAnswer> {
  const started = performance.now()
  const answered = overSocket ? overPort(server, wire) : within(server, wire)
  let timer: NodeJS.Timeout | undefined
  const hanging = new Promise<never>((_resolve, reject) => {
    timer = setTimeout(() => reject(new Error(`no answer within ${HANGS_MS} ms`)), HANGS_MS)
  })
  const { status, headers, body } = await Promise.race([answered, hanging]).finally(() => clearTimeout(timer))
  const mediaType = headers['content-type'] === undefined ? undefined : String(headers['content-type']).split(';')[0]
  return { status, headers, body, mediaType, tookMs: performance.now() - started }
}

interface Received {
  readonly status: number
  readonly headers: Readonly<Record<string, unknown>>
  readonly body: string
}

async function within({ app }: TestServer, { method, url, headers, payload }: WireRequest): Promise<Received> {
  const answer = await app.inject({
    method: method as 'GET',
    url,
    headers,
    ...(payload !== undefined && { payload }),
  })
  return { status: answer.statusCode, headers: answer.headers, body: answer.body }
}

async function overPort({ app }: TestServer, { method, url, headers, payload }: WireRequest): Promise<Received> {
  if (!app.server.listening) await app.listen({ port: 0, host: '127.0.0.1' })
  const { port } = app.server.address() as AddressInfo
  // Node's client sends the body of a DELETE without saying that there is one.
  const length = payload === undefined ? {} : { 'content-length': Buffer.byteLength(payload) }
  const options = { port, host: '127.0.0.1', agent: false, method, path: url, headers: { ...headers, ...length } }
  return new Promise((resolve, reject) => {
    const sent = httpRequest(options, (answer) => {
      receive(answer).then(resolve, reject)
    })
    sent.on('error', reject)
    sent.end(payload)
  })
}

async function receive(answer: IncomingMessage): Promise<Received> {
  const chunks: Buffer[] = []
  for await (const chunk of answer) chunks.push(chunk as Buffer)
  return { status: answer.statusCode ?? 0, headers: answer.headers, body: Buffer.concat(chunks).toString('utf8') }
}
