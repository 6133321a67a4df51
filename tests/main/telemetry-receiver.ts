import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'

/** A span as OTLP writes it in JSON (opentelemetry-proto, trace.proto). */
export interface ReceivedSpan {
  readonly traceId: string
  readonly spanId: string
  readonly parentSpanId?: string
  readonly name: string
  /** 1 internal, 2 server, 3 client, 5 consumer. */
  readonly kind: number
  readonly attributes: Readonly<Record<string, string | number>>
  /** 2 where it failed. */
  readonly status: number
}

export interface ReceivedFigure {
  readonly name: string
  readonly unit: string
  readonly kind: 'histogram' | 'sum' | 'gauge'
  readonly points: readonly {
    readonly attributes: Readonly<Record<string, string | number>>
    readonly value: unknown
  }[]
}

/** What a receiver of OTLP over HTTP has been sent: a collector's side of the standard, as much of it as a test looks at. */
export interface TelemetryReceiver {
  readonly endpoint: string
  spans(): ReceivedSpan[]
  /** Of the last time that figures came. */
  figures(): ReceivedFigure[]
  /** All that came, as it came. */
  raw(): string
  contentTypes(): Set<string>
  close(): Promise<void>
}

interface KeyValue {
  key: string
  value: { stringValue?: string; intValue?: number | string; doubleValue?: number }
}

const attributesOf = (list: KeyValue[] = []) =>
  Object.fromEntries(
    list.map(({ key, value }) => [key, value.stringValue ?? Number(value.intValue ?? value.doubleValue)]),
  )

export async function startTelemetryReceiver(): Promise<TelemetryReceiver> {
  const bodies: { path: string; text: string }[] = []
  const contentTypes = new Set<string>()
  const server = createServer(async (request, response) => {
    const parts: Buffer[] = []
    for await (const part of request) parts.push(part as Buffer)
    contentTypes.add(request.headers['content-type'] ?? '')
    bodies.push({ path: request.url ?? '', text: Buffer.concat(parts).toString('utf8') })
    response.writeHead(200, { 'content-type': 'application/json' }).end('{}')
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  // biome-ignore lint/suspicious/noExplicitAny: messages of the protocol, of which a test looks at some members
  const of = (path: string): any[] => bodies.filter((each) => each.path === path).map(({ text }) => JSON.parse(text))
  return {
    endpoint: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    spans: () =>
      of('/v1/traces')
        .flatMap(({ resourceSpans }) => resourceSpans)
        .flatMap(({ scopeSpans }) => scopeSpans)
        .flatMap(({ spans }) => spans)
        .map((span) => ({ ...span, attributes: attributesOf(span.attributes), status: span.status?.code ?? 0 })),
    figures: () =>
      (of('/v1/metrics').at(-1)?.resourceMetrics ?? [])
        // biome-ignore lint/suspicious/noExplicitAny: as above
        .flatMap(({ scopeMetrics }: any) => scopeMetrics)
        // biome-ignore lint/suspicious/noExplicitAny: as above
        .flatMap(({ metrics }: any) => metrics)
        .map(figureOf),
    raw: () => bodies.map(({ text }) => text).join('\n'),
    contentTypes: () => contentTypes,
    close: () => new Promise((resolve) => server.close(() => resolve())),
  }
}

// biome-ignore lint/suspicious/noExplicitAny: a message of the protocol
function figureOf(metric: any): ReceivedFigure {
  const kind = (['histogram', 'sum', 'gauge'] as const).find((each) => metric[each] !== undefined) ?? 'gauge'
  const points = metric[kind].dataPoints.map(
    // biome-ignore lint/suspicious/noExplicitAny: as above
    ({ attributes, ...value }: any) => ({ attributes: attributesOf(attributes), value }),
  )
  return { name: metric.name, unit: metric.unit, kind, points }
}
