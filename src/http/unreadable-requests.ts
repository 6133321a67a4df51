import { STATUS_CODES } from 'node:http'
import type { Socket } from 'node:net'
import type { FastifyError, FastifyReply, FastifyRequest, FastifyServerOptions } from 'fastify'
import { sendProblem } from './problem.js'

/** Requests that are refused before any route is looked for are answered with problem documents too. */
export const REFUSAL_OF_UNREADABLE = {
  frameworkErrors: refuseAddress,
  clientErrorHandler: refuseBytes,
} satisfies Pick<FastifyServerOptions, 'frameworkErrors' | 'clientErrorHandler'>

function refuseAddress(error: FastifyError, request: FastifyRequest, reply: FastifyReply): void {
  const isTooLong = error.code === 'FST_ERR_MAX_PARAM_LENGTH'
  const detail = isTooLong ? 'a part of the address is too long' : 'the address is not in the form of RFC 3986'
  sendProblem(request, reply, isTooLong ? 414 : 400, { detail })
}

/** By the codes of Node's parser; what else it cannot read is no HTTP. */
const BROKEN: Readonly<Record<string, { status: number; detail: string }>> = {
  ERR_HTTP_REQUEST_TIMEOUT: { status: 408, detail: 'the request took too long to arrive' },
  HPE_HEADER_OVERFLOW: { status: 431, detail: 'the headers are too long' },
}
const NO_HTTP = { status: 400, detail: 'this cannot be read as HTTP/1.1' }

/** What came is no request that could be answered by a reply: the answer is written by hand, and the connection ends. */
function refuseBytes(error: Error & { code?: string }, socket: Socket): void {
  if (error.code === 'ECONNRESET' || !socket.writable) return
  const { status, detail } = BROKEN[error.code ?? ''] ?? NO_HTTP
  const title = STATUS_CODES[status]
  const body = JSON.stringify({ type: 'about:blank', title, status, detail })
  const head = [
    `HTTP/1.1 ${status} ${title}`,
    'Content-Type: application/problem+json',
    `Content-Length: ${Buffer.byteLength(body)}`,
    'Connection: close',
  ]
  socket.write(`${head.join('\r\n')}\r\n\r\n${body}`)
  socket.destroySoon()
}
