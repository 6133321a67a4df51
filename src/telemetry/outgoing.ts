import { type Attributes, type Span, SpanKind } from '@opentelemetry/api'
import { noteOutgoing } from './process-figures.js'
import { inSpan } from './spans.js'

/** A call to another system: a span of its own, and a figure of how long it took. */
export async function outgoing<Answer>(
  kind: 'mail' | 'web' | 'photo store',
  name: string,
  attributes: Attributes,
  work: (span: Span) => Promise<Answer>,
): Promise<Answer> {
  const startedAt = performance.now()
  const note = (outcome: 'done' | 'failed') => noteOutgoing(kind, outcome, (performance.now() - startedAt) / 1000)
  try {
    const answer = await inSpan(name, { kind: SpanKind.CLIENT, attributes }, work)
    note('done')
    return answer
  } catch (error) {
    note('failed')
    throw error
  }
}
