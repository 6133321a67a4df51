import {
  type Attributes,
  type Context,
  context,
  propagation,
  type Span,
  SpanKind,
  SpanStatusCode,
  trace,
} from '@opentelemetry/api'

/**
 * Spans of traces, as OpenTelemetry defines them. Without a receiver (`otlp.ts`) its interface does nothing, at the price of a call. Attributes
 * name routes, statements, hosts and kinds: never a value that somebody sent, and of a failure its class, never its message, which may
 * repeat one.
 */
const TRACER = 'anode-ledger'

export interface SpanOptions {
  readonly kind?: SpanKind
  readonly attributes?: Attributes
  /** Unless given, what is under way. */
  readonly parent?: Context
}

/** Does work within a span of its own. */
export function inSpan<Answer>(
  name: string,
  { kind = SpanKind.INTERNAL, attributes = {}, parent = context.active() }: SpanOptions,
  work: (span: Span) => Promise<Answer>,
): Promise<Answer> {
  return trace.getTracer(TRACER).startActiveSpan(name, { kind, attributes }, parent, async (span) => {
    try {
      return await work(span)
    } catch (error) {
      failSpan(span, error)
      throw error
    } finally {
      span.end()
    }
  })
}

/** A span that the caller ends, and that is nothing's parent until it says so. */
export function beginSpan(name: string, { kind = SpanKind.INTERNAL, attributes = {}, parent }: SpanOptions): Span {
  return trace.getTracer(TRACER).startSpan(name, { kind, attributes }, parent ?? context.active())
}

/** Whether what is under way is traced. */
export function isTraced(): boolean {
  return trace.getActiveSpan()?.isRecording() ?? false
}

export function failSpan(span: Span, error: unknown): void {
  span.setAttribute('error.type', classOf(error))
  span.setStatus({ code: SpanStatusCode.ERROR })
}

/** A code of PostgreSQL or of a socket where there is one, else the error's name. */
function classOf(error: unknown): string {
  if (!(error instanceof Error)) return 'unknown'
  return codeOf(error) ?? error.name
}

function codeOf(error: unknown): string | undefined {
  if (!(error instanceof Error)) return undefined
  const { code } = error as { code?: unknown }
  return typeof code === 'string' ? code : codeOf(error.cause)
}

/** What a log line says of the trace that it belongs to; nothing where there is none. */
export function traceOfLine(): { trace_id?: string; span_id?: string } {
  const span = trace.getActiveSpan()?.spanContext()
  return span === undefined ? {} : { trace_id: span.traceId, span_id: span.spanId }
}

/** The trace under way as W3C trace context names it (`traceparent`), to go along with what is done later; empty where there is none. */
export function carriedTrace(): Record<string, string> {
  const carrier: Record<string, string> = {}
  propagation.inject(context.active(), carrier)
  return carrier
}

/** What `carriedTrace`, or a caller's headers, named. */
export function traceFrom(carrier: object): Context {
  return propagation.extract(context.active(), carrier)
}
