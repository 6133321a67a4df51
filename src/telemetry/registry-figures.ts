import type { HrTime } from '@opentelemetry/api'
import { ValueType } from '@opentelemetry/api'
import type { Resource } from '@opentelemetry/resources'
import {
  AggregationTemporality,
  type CollectionResult,
  type DataPoint,
  DataPointType,
  type Histogram,
  type MetricData,
  type MetricProducer,
} from '@opentelemetry/sdk-metrics'
import type { MetricObjectWithValues, MetricValue, Registry } from 'prom-client'

type Figure = MetricObjectWithValues<MetricValue<string>>
/** Values of a histogram say which of its lines they are. */
type Sample = MetricValue<string> & { readonly metricName?: string }

/** The figures that Prometheus reads, under the same names, as OpenTelemetry sends them: each is counted in one place alone. */
export class RegistryFigures implements MetricProducer {
  readonly #registries: readonly Registry[]
  readonly #resource: Resource
  readonly #startTime: HrTime = timeOf(Date.now() - performance.now())

  constructor(registries: readonly Registry[], resource: Resource) {
    this.#registries = registries
    this.#resource = resource
  }

  async collect(): Promise<CollectionResult> {
    const read = await Promise.allSettled(this.#registries.map((registry) => registry.getMetricsAsJSON()))
    const figures = read.flatMap((each) => (each.status === 'fulfilled' ? each.value : []))
    const endTime = timeOf(Date.now())
    const metrics = figures.map((figure) => metricOf(figure, { startTime: this.#startTime, endTime }))
    return {
      resourceMetrics: { resource: this.#resource, scopeMetrics: [{ scope: { name: 'anode-ledger' }, metrics }] },
      errors: read.flatMap((each) => (each.status === 'rejected' ? [each.reason] : [])),
    }
  }
}

const timeOf = (ms: number): HrTime => [Math.floor(ms / 1000), Math.round((ms % 1000) * 1e6)]

type Times = Pick<DataPoint<number>, 'startTime' | 'endTime'>

function metricOf(figure: Figure, times: Times): MetricData {
  const { name, help: description, values } = figure
  // prom-client types it as a number of a list, and gives the word.
  const type = String(figure.type)
  const unit = /_(seconds|bytes)(_total)?$/.exec(name)?.[1]?.replace('seconds', 's').replace('bytes', 'By') ?? '1'
  const common = {
    descriptor: { name, description, unit, valueType: ValueType.DOUBLE },
    aggregationTemporality: AggregationTemporality.CUMULATIVE,
  }
  if (type === 'histogram') {
    return { ...common, dataPointType: DataPointType.HISTOGRAM, dataPoints: histogramsOf(values, times) }
  }
  const dataPoints = values.map(({ labels, value }) => ({ ...times, attributes: { ...labels }, value }))
  return type === 'counter'
    ? { ...common, dataPointType: DataPointType.SUM, isMonotonic: true, dataPoints }
    : { ...common, dataPointType: DataPointType.GAUGE, dataPoints }
}

/** One histogram for each set of labels. Prometheus counts what is below each bound, OpenTelemetry what is between two. */
function histogramsOf(values: readonly Sample[], times: Times): DataPoint<Histogram>[] {
  const bySet = new Map<string, Sample[]>()
  for (const sample of values) {
    const { le: _bound, ...labels } = sample.labels as Record<string, string | number>
    const key = JSON.stringify(labels)
    bySet.set(key, [...(bySet.get(key) ?? []), sample])
  }
  return [...bySet].map(([key, samples]) => {
    const last = (ending: string) => samples.find(({ metricName }) => metricName?.endsWith(ending))?.value ?? 0
    const buckets = samples.filter(({ metricName }) => metricName?.endsWith('_bucket'))
    const below = buckets.map(({ value }) => value)
    const boundaries = buckets
      .map(({ labels }) => Number((labels as { le: number | string }).le))
      .filter(Number.isFinite)
    const counts = below.map((count, index) => count - (below[index - 1] ?? 0))
    const value = { buckets: { boundaries, counts }, sum: last('_sum'), count: last('_count') }
    return { ...times, attributes: JSON.parse(key), value }
  })
}
