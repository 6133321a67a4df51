import { context, DiagLogLevel, diag, propagation, trace } from '@opentelemetry/api'
import { detectResources, envDetector, type Resource, resourceFromAttributes } from '@opentelemetry/resources'
import { MeterProvider, PeriodicExportingMetricReader, type PushMetricExporter } from '@opentelemetry/sdk-metrics'
import { BatchSpanProcessor, NodeTracerProvider, type SpanExporter } from '@opentelemetry/sdk-trace-node'
import type { Registry } from 'prom-client'
import { RegistryFigures } from './registry-figures.js'

export interface Telemetry {
  /** Sends what is left, and ends. */
  stop(): Promise<void>
}

export interface TelemetryOptions {
  readonly environment: Record<string, string | undefined>
  /** Of the service. */
  readonly version: string
  /** Whose figures are sent along. */
  readonly registries: readonly Registry[]
  readonly onError: (error: Error) => void
}

/** As the specification has it where OTEL_METRIC_EXPORT_INTERVAL says nothing. */
const FIGURES_EVERY_MS = 60_000
const STOP_LIMIT_MS = 3_000
const SAID_EVERY_MS = 60_000

/**
 * Sends traces and figures by OTLP over HTTP to where OTEL_EXPORTER_OTLP_ENDPOINT says. The exporters, the sampler and the batches read the
 * other variables of the OpenTelemetry specification from the process's environment themselves.
 *
 * @throws Error for a protocol that is not spoken
 */
export async function startTelemetry(options: TelemetryOptions): Promise<Telemetry> {
  const { environment, version, registries, onError } = options
  const quiet = () => {}
  const say = seldom((message) => onError(new Error(message)))
  diag.setLogger({ error: say, warn: say, info: quiet, debug: quiet, verbose: quiet }, DiagLogLevel.WARN)
  const { spans, figures } = await exportersOf(environment.OTEL_EXPORTER_OTLP_PROTOCOL ?? 'http/protobuf')
  const resource = resourceOf(environment, version)
  const tracing = new NodeTracerProvider({ resource, spanProcessors: [new BatchSpanProcessor(spans)] })
  tracing.register()
  const reader = new PeriodicExportingMetricReader({
    exporter: figures,
    exportIntervalMillis: Number(environment.OTEL_METRIC_EXPORT_INTERVAL) || FIGURES_EVERY_MS,
    metricProducers: [new RegistryFigures(registries, resource)],
  })
  const meters = new MeterProvider({ resource, readers: [reader] })
  return {
    stop: async () => {
      await Promise.race([Promise.allSettled([tracing.shutdown(), meters.shutdown()]), patience()])
      for (const each of [trace, context, propagation, diag]) each.disable()
    },
  }
}

/** A receiver that is away fails at every batch: it is enough to hear of it now and then. */
function seldom(say: (message: string) => void): (message: string) => void {
  let saidAt = Number.NEGATIVE_INFINITY
  return (message) => {
    if (performance.now() - saidAt < SAID_EVERY_MS) return
    saidAt = performance.now()
    say(message)
  }
}

/** A receiver that is away must not keep the service from stopping; one that is there takes what is left in milliseconds. */
function patience(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, STOP_LIMIT_MS).unref())
}

function resourceOf(environment: TelemetryOptions['environment'], version: string): Resource {
  const own = resourceFromAttributes({
    'service.name': environment.OTEL_SERVICE_NAME ?? 'anode-ledger',
    'service.version': version,
  })
  return own.merge(detectResources({ detectors: [envDetector] }))
}

interface Exporters {
  readonly spans: SpanExporter
  readonly figures: PushMetricExporter
}

async function exportersOf(protocol: string): Promise<Exporters> {
  switch (protocol) {
    case 'http/protobuf': {
      const [{ OTLPTraceExporter }, { OTLPMetricExporter }] = await Promise.all([
        import('@opentelemetry/exporter-trace-otlp-proto'),
        import('@opentelemetry/exporter-metrics-otlp-proto'),
      ])
      return { spans: new OTLPTraceExporter(), figures: new OTLPMetricExporter() }
    }
    case 'http/json': {
      const [{ OTLPTraceExporter }, { OTLPMetricExporter }] = await Promise.all([
        import('@opentelemetry/exporter-trace-otlp-http'),
        import('@opentelemetry/exporter-metrics-otlp-http'),
      ])
      return { spans: new OTLPTraceExporter(), figures: new OTLPMetricExporter() }
    }
    default:
      throw new Error(`OTEL_EXPORTER_OTLP_PROTOCOL must be http/protobuf or http/json, not ${protocol}`)
  }
}
