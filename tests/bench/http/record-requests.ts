import { type RunningService, start } from '../../../src/main.js'
import { HEADERS, JSON_BODY, serviceEnvironment } from './bench-service.js'
import { type SentStatement, SqlRecorder } from './recorded-sql.js'

const FIRST_REFUSAL = 300

/** A request as the service is sent it. */
export interface BenchRequest {
  readonly method: 'GET' | 'POST'
  readonly url: string
  readonly body?: string
  readonly key?: string
}

/** Asks the service, by one request after the other, and hears what it sends to the database meanwhile. */
export interface Recording {
  readonly service: RunningService
  /** @throws Error at a refusal */
  request(request: BenchRequest): Promise<{ sent: SentStatement[]; body: string }>
  during(work: () => Promise<unknown>): Promise<SentStatement[]>
}

/** Runs the service in this process on a database as long as the work takes. */
export async function recording<T>(databaseUrl: string, work: (recording: Recording) => Promise<T>): Promise<T> {
  // The driver is listened to before the first connection: pools keep its functions as they find them.
  const recorder = new SqlRecorder()
  const service = await start({
    environment: { ...serviceEnvironment(databaseUrl), LOG_LEVEL: 'silent' },
    print: () => {},
  })
  const during = (asked: () => Promise<unknown>) => recorder.during(asked)
  const request = async ({ method, url, body, key }: BenchRequest) => {
    let said = ''
    const headers = { ...HEADERS, ...(key && { 'idempotency-key': key }), ...(body && JSON_BODY) }
    const sent = await during(async () => {
      const answer = await service.app.inject({ method, url, headers, ...(body && { payload: body }) })
      if (answer.statusCode >= FIRST_REFUSAL) throw new Error(`${method} ${url}: ${answer.statusCode} ${answer.body}`)
      said = answer.body
    })
    return { sent, body: said }
  }
  try {
    return await work({ service, request, during })
  } finally {
    recorder.stop()
    await service.stop()
  }
}

/** What each of these requests sends, one after the other. */
export function recordAll(databaseUrl: string, requests: readonly BenchRequest[]): Promise<SentStatement[][]> {
  return recording(databaseUrl, async ({ request }) => {
    const recorded: SentStatement[][] = []
    for (const each of requests) recorded.push((await request(each)).sent)
    return recorded
  })
}
