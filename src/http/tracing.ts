import { AsyncResource } from 'node:async_hooks'
import { type Attributes, context, type Span, SpanKind, trace } from '@opentelemetry/api'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { runAskedBy } from '../telemetry/asked-by.js'
import { beginSpan, failSpan, traceFrom } from '../telemetry/spans.js'

interface Traced {
  readonly span: Span
  /** What is done for the request is done in here. */
  readonly scope: AsyncResource
  error?: Error
}

/** Asked every few seconds by whoever watches: a trace of each would be all that is seen. */
const WATCHING = /^\/(health|metrics)(\/|$|\?)/

/**
 * Gives each request its place: what is done for it knows its id, and is a part of its trace. Written here, though there is a plug-in: that
 * one tells the address (`url.path`), in which are names of boats and the tokens of letters, and makes a span of every hook.
 */
export function traceRequests(app: FastifyInstance): void {
  const traced = new WeakMap<FastifyRequest, Traced>()
  app.addHook('onRequest', (request, reply, done) => {
    runAskedBy({ requestId: request.id }, () => {
      if (WATCHING.test(request.url)) return done()
      const span = beginSpan(nameOf(request), { kind: SpanKind.SERVER, parent: traceFrom(request.headers) })
      context.with(trace.setSpan(context.active(), span), () => {
        traced.set(request, { span, scope: new AsyncResource('request') })
        const { traceId } = span.spanContext()
        if (span.isRecording()) reply.header('x-trace-id', traceId)
        done()
      })
    })
  })
  // A body is read on behalf of its connection: what comes after belongs to the request again.
  app.addHook('preValidation', (request, _reply, done) => {
    const scope = traced.get(request)?.scope
    if (scope === undefined) done()
    else scope.runInAsyncScope(done)
  })
  app.addHook('onError', async (request, _reply, error) => {
    const its = traced.get(request)
    if (its !== undefined) its.error = error
  })
  const end = async (request: FastifyRequest, reply?: FastifyReply) => {
    const its = traced.get(request)
    if (its === undefined) return
    traced.delete(request)
    its.span.setAttributes(attributesOf(request, reply))
    // A refusal is an answer: only what the service itself failed at is a failure (semantic conventions for HTTP servers).
    if (reply !== undefined && reply.statusCode >= 500) failSpan(its.span, its.error)
    its.span.end()
  }
  app.addHook('onResponse', end)
  app.addHook('onRequestAbort', (request) => end(request))
}

function attributesOf(request: FastifyRequest, reply: FastifyReply | undefined): Attributes {
  const { method, id, routeOptions } = request
  return {
    'http.request.method': method,
    'anode_ledger.request_id': id,
    ...(routeOptions.url !== undefined && { 'http.route': routeOptions.url }),
    ...(reply !== undefined && { 'http.response.status_code': reply.statusCode }),
  }
}

function nameOf({ method, routeOptions }: FastifyRequest): string {
  return routeOptions.url === undefined ? method : `${method} ${routeOptions.url}`
}
