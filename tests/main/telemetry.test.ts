import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import { createServerDatabase, type ServerDatabase } from '../database/test-database.js'
import { OPEN_TO_ALL, startMailServer } from '../outside/mail-server.js'
import { KEY, type RunningProcess, startProcess } from '../process/running-process.js'
import { jpegOf } from '../services/photos/images.js'
import { type ReceivedSpan, startTelemetryReceiver, type TelemetryReceiver } from './telemetry-receiver.js'

const [SERVER, CLIENT, CONSUMER] = [2, 3, 5]
/** What must not be told to whoever looks at traces: a boat, an anode, a person, what let in. */
const SECRETS = ['Kittiwake', 'rudder-7', 'ada@yard.example', 'Ada', KEY, '48.1234567']

let folder: string
let database: ServerDatabase | undefined
let receiver: TelemetryReceiver
let service: RunningProcess | undefined

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'anode-ledger-telemetry-'))
  database = await createServerDatabase()
  receiver = await startTelemetryReceiver()
})
afterEach(() => service?.stop('SIGTERM'))
afterAll(async () => {
  await receiver.close()
  await database?.drop()
  rmSync(folder, { recursive: true, force: true })
})

const environmentOf = (name: string) => ({
  DATA_DIR: join(folder, name),
  ...(database && { DATABASE_URL: database.url }),
  ADMIN_API_KEY: KEY,
  LOG_LEVEL: 'info',
})

describe('telemetry', { timeout: 180_000 }, () => {
  it('makes one trace of a haul-out: request, statements, job and engine, and tells nobody whose they were', async () => {
    const letters: Buffer[] = []
    const mail = await startMailServer((letter) => void letters.push(letter), OPEN_TO_ALL)
    service = await startProcess({
      ...environmentOf('traced'),
      OTEL_EXPORTER_OTLP_ENDPOINT: receiver.endpoint,
      OTEL_EXPORTER_OTLP_PROTOCOL: 'http/json',
      OTEL_BSP_SCHEDULE_DELAY: '100',
      OTEL_METRIC_EXPORT_INTERVAL: '500',
      OTEL_METRIC_EXPORT_TIMEOUT: '400',
      SLOW_QUERY_MS: '0',
      SMTP_URL: `smtp://${mail.host}`,
    })
    const { send } = service
    await send('POST', '/v1/boats', { name: 'Kittiwake', ownerName: 'Ada', ownerEmail: 'ada@yard.example' })
    const anode = { name: 'rudder-7', position: 'rudder', alloy: 'zinc', fittedOn: '2025-04-01', grossMassG: 1250 }
    await send('POST', '/v1/boats/Kittiwake/anodes', anode)
    // A refit that still waits is shared, and belongs to whoever asked for it first: none waits when the boat is lifted.
    const on = new Date(Date.now() + 90 * 24 * 3_600_000).toISOString().slice(0, 10)
    const planned = await send('POST', '/v1/planned-lifts', { lifts: [{ boat: 'Kittiwake', on }] })
    await untilCompleted(service, planned.body.refit.id)
    const weighings = [{ anode: 'rudder-7', massG: 848.1234567 }]
    const lift = await send('POST', '/v1/boats/Kittiwake/haul-outs', { hauledOn: '2026-04-01', weighings })
    expect(lift.status).toBe(201)
    const traceId = lift.headers.get('x-trace-id') ?? ''
    expect(traceId).toMatch(/^[\da-f]{32}$/)
    await untilCompleted(service, lift.body.refit.id)
    await photograph(service, lift.body.id)
    await send('POST', '/v1/auth/sign-in/magic-link', { email: 'ada@yard.example' })
    await expect.poll(() => letters.length, SOON).toBe(1)

    const named = (name: string) => receiver.spans().filter((span) => span.traceId === traceId && span.name === name)
    await expect.poll(() => named('job refit').length, SOON).toBe(1)
    const [request] = named('POST /v1/boats/:boat/haul-outs') as [ReceivedSpan]
    expect(request.kind).toBe(SERVER)
    expect(request.parentSpanId).toBeUndefined()
    expect(request.attributes).toMatchObject({
      'http.request.method': 'POST',
      'http.route': '/v1/boats/:boat/haul-outs',
      'http.response.status_code': 201,
      'anode_ledger.request_id': lift.headers.get('x-request-id'),
    })
    const [job] = named('job refit') as [ReceivedSpan]
    expect(job).toMatchObject({ kind: CONSUMER, parentSpanId: request.spanId, status: 0 })
    expect(new Set(named('engine compute').map(({ parentSpanId }) => parentSpanId))).toEqual(new Set([job.spanId]))
    const written = named('INSERT').map(({ attributes }) => String(attributes['db.query.text']))
    expect(written.some((text) => text.startsWith('insert into "weighings"') && text.includes('$1'))).toBe(true)
    expect(written.some((text) => text.startsWith('insert into "forecasts"'))).toBe(true)
    const statements = named('INSERT')
    expect(statements.every(({ kind, parentSpanId }) => kind === CLIENT && parentSpanId !== undefined)).toBe(true)
    expect(statements.some(({ parentSpanId }) => parentSpanId === request.spanId)).toBe(true)
    expect(statements.some(({ parentSpanId }) => parentSpanId === job.spanId)).toBe(true)

    const names = () => new Set(receiver.spans().map(({ name }) => name))
    await expect.poll(names, SOON).toContain('put photo')
    await expect.poll(names, SOON).toContain('send mail')
    expect(names()).not.toContain('GET /health/ready')
    await expect.poll(() => receiver.figures().map(({ name }) => name), SOON).toContain('http_request_duration_seconds')
    await service.stop('SIGTERM')
    await mail.close()
    for (const secret of SECRETS) expect(receiver.raw(), secret).not.toContain(secret)
    expectFigures(receiver)
    expectLog(service.output(), {
      traceId,
      requestId: lift.headers.get('x-request-id') ?? '',
      jobId: lift.body.refit.id,
    })
  })

  it('speaks protobuf unless told otherwise', async () => {
    const other = await startTelemetryReceiver()
    service = await startProcess({ ...environmentOf('protobuf'), OTEL_EXPORTER_OTLP_ENDPOINT: other.endpoint })
    await service.send('GET', '/v1/me')
    await service.stop('SIGTERM')
    expect(other.contentTypes()).toEqual(new Set(['application/x-protobuf']))
    expect(other.raw()).toContain('GET /v1/me')
    await other.close()
  })

  it('is not there without a receiver', async () => {
    service = await startProcess(environmentOf('untraced'))
    const answer = await service.send('GET', '/v1/me')
    expect(answer.headers.get('x-trace-id')).toBeNull()
    await service.stop('SIGTERM')
    expect(service.output()).not.toContain('trace_id')
  })

  it('does not keep the service from working where the receiver is away', async () => {
    service = await startProcess({ ...environmentOf('away'), OTEL_EXPORTER_OTLP_ENDPOINT: 'http://127.0.0.1:9' })
    expect((await service.send('GET', '/v1/me')).status).toBe(200)
    expect(await service.stop('SIGTERM')).toBe(0)
  })
})

const FIT = { timeout: 60_000, interval: 200 }
const SOON = { timeout: 10_000, interval: 100 }

function untilCompleted({ send }: RunningProcess, job: string): Promise<void> {
  return expect.poll(async () => (await send('GET', `/v1/jobs/${job}`)).body.state, FIT).toBe('completed')
}

async function photograph({ address }: RunningProcess, haulOut: string): Promise<void> {
  const form = new FormData()
  form.append('photo', new Blob([new Uint8Array(await jpegOf(20, 20))]), 'bow.jpg')
  const headers = { authorization: `Bearer ${KEY}` }
  const answer = await fetch(`${address}/v1/haul-outs/${haulOut}/photos`, { method: 'POST', body: form, headers })
  expect(answer.status).toBe(201)
}

/** The same figures as at /metrics, as OpenTelemetry counts. */
function expectFigures(from: TelemetryReceiver): void {
  const figure = (name: string) => from.figures().find((each) => each.name === name)
  const requests = figure('http_request_duration_seconds')
  expect(requests).toMatchObject({ kind: 'histogram', unit: 's' })
  const lift = requests?.points.find(({ attributes }) => attributes.route === '/v1/boats/:boat/haul-outs')
  const { bucketCounts, explicitBounds, count } = (lift?.value ?? {}) as {
    bucketCounts: (string | number)[]
    explicitBounds: number[]
    count: string | number
  }
  expect(Number(count)).toBe(1)
  expect(bucketCounts.map(Number).reduce((sum, each) => sum + each, 0)).toBe(1)
  expect(bucketCounts).toHaveLength(explicitBounds.length + 1)
  expect(figure('anode_ledger_job_duration_seconds')?.points.map(({ attributes }) => attributes)).toContainEqual({
    kind: 'refit',
    outcome: 'done',
  })
  expect(figure('anode_ledger_slow_statements_total')).toMatchObject({ kind: 'sum' })
  expect(figure('nodejs_eventloop_lag_p99_seconds')).toMatchObject({ kind: 'gauge', unit: 's' })
}

/** Lines of requests name their trace; slow statements their request, and no value. */
function expectLog(output: string, { traceId, requestId, jobId }: Record<'traceId' | 'requestId' | 'jobId', string>) {
  const lines = output
    .split('\n')
    .filter((line) => line.startsWith('{'))
    .map((line) => JSON.parse(line))
  const answered = lines.find(({ msg, reqId }) => msg === 'request completed' && reqId === requestId)
  expect(answered.trace_id).toBe(traceId)
  const slow = lines.filter(({ msg }) => msg === 'slow statement')
  const ofRequest = slow.filter((line) => line.reqId === requestId && line.jobId === undefined)
  expect(ofRequest.map(({ text }) => text).join('\n')).toMatch(/insert into "weighings" .* values \(.*\$1/)
  expect(ofRequest.every(({ durationMs }) => durationMs >= 0)).toBe(true)
  const ofJob = slow.filter((line) => line.jobId === jobId)
  expect(ofJob.map(({ text }) => text).join('\n')).toContain('insert into "forecasts"')
  expect(ofJob.every(({ reqId, trace_id }) => reqId === requestId && trace_id === traceId)).toBe(true)
  const told = JSON.stringify(slow)
  for (const secret of SECRETS) expect(told, secret).not.toContain(secret)
}
