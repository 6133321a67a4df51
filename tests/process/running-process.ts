import { inject } from 'vitest'
import { type CompiledProcess, startCompiled } from './compiled-process.js'

/** The key that `startProcess` makes the administrator's, unless told otherwise. */
export const KEY = 'a-key-of-the-tests-alone'

export interface RunningProcess extends CompiledProcess {
  /** A request as the administrator. */
  send(method: string, path: string, body?: unknown, headers?: Record<string, string>): Promise<ProcessAnswer>
}

export interface ProcessAnswer {
  readonly status: number
  readonly headers: Headers
  // biome-ignore lint/suspicious/noExplicitAny: a test looks into answers of every shape, and says what it expects there
  readonly body: any
}

/** Starts the service that this run of the tests compiled. @throws as `startCompiled` */
export async function startProcess(environment: Record<string, string>): Promise<RunningProcess> {
  const running = await startCompiled(inject('compiledService'), environment)
  return {
    ...running,
    send: (method, path, body, headers = {}) => send(`${running.address}${path}`, { method, headers, body }),
  }
}

interface Sent {
  readonly method: string
  readonly headers: Record<string, string>
  readonly body: unknown
}

async function send(url: string, { method, headers, body }: Sent): Promise<ProcessAnswer> {
  const isForm = body instanceof FormData
  const answer = await fetch(url, {
    method,
    headers: {
      authorization: `Bearer ${KEY}`,
      ...(body !== undefined && !isForm && { 'content-type': 'application/json' }),
      ...headers,
    },
    ...(body !== undefined && { body: isForm ? body : JSON.stringify(body) }),
  })
  const text = await answer.text()
  return { status: answer.status, headers: answer.headers, body: text === '' ? null : JSON.parse(text) }
}
