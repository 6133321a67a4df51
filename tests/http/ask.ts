import type { Credentials, TestServer } from './server.js'

export interface Answer {
  readonly status: number
  readonly etag: string
  readonly headers: Record<string, unknown>
  // biome-ignore lint/suspicious/noExplicitAny: a test looks into answers of every shape, and says what it expects there
  readonly body: any
}

export type Ask = (
  method: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE',
  url: string,
  body?: object,
  headers?: Record<string, string>,
) => Promise<Answer>

/** Requests as one and the same somebody. */
export function askAs(server: TestServer, credentials: Credentials): Ask {
  return async (method, url, body, headers = {}) => {
    const answer = await server.app.inject({
      method,
      url,
      headers: { ...credentials, ...headers },
      ...(body && { payload: body }),
    })
    return {
      status: answer.statusCode,
      etag: String(answer.headers.etag ?? ''),
      headers: answer.headers,
      body: answer.body === '' ? null : answer.json(),
    }
  }
}

/** The header of a change that is based on that answer. */
export const basedOn = (answer: Answer) => ({ 'if-match': answer.etag })
