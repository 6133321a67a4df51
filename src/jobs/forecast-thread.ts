import { Worker, type WorkerOptions } from 'node:worker_threads'
import type { ComputeForecasts } from '../services/model/compute-forecasts.js'
import { inSpan } from '../telemetry/spans.js'

/** A call of one of the engine's methods, as it travels to the thread. */
export type ForecastRequest = { readonly id: number } & Call
type Call = {
  [What in keyof ComputeForecasts]: { readonly what: What; readonly given: Parameters<ComputeForecasts[What]> }
}[keyof ComputeForecasts]

export type ForecastReply =
  | { readonly id: number; readonly answer: unknown }
  | {
      readonly id: number
      readonly failure: { readonly name: string; readonly message: string; readonly stack?: string | undefined }
    }

interface Waiting {
  readonly resolve: (answer: unknown) => void
  readonly reject: (error: Error) => void
}

/**
 * Of the thread's heap [MiB]. With V8's own limit, up to 4 GiB, it would be collected so late that it is mostly garbage (docs/scale.md).
 * A fit of 2,000 boats takes a quarter of it.
 */
const HEAP_MIB = 1024

/**
 * The engine on a thread of its own: requests are answered while a fleet is fitted. A thread that died is replaced, one for which its heap
 * was too small by one that may have twice as much: whoever asks again is answered.
 */
export class ForecastThread implements ComputeForecasts {
  #heapMib: number
  #worker: Worker | undefined
  #nextId = 1
  #isClosed = false
  readonly #waiting = new Map<number, Waiting>()

  /** @param heapMib how large its heap may be at first [MiB] */
  constructor(heapMib = HEAP_MIB) {
    this.#heapMib = heapMib
  }

  compute(...given: Parameters<ComputeForecasts['compute']>): ReturnType<ComputeForecasts['compute']> {
    return this.#ask({ what: 'compute', given }) as ReturnType<ComputeForecasts['compute']>
  }

  plan(...given: Parameters<ComputeForecasts['plan']>): ReturnType<ComputeForecasts['plan']> {
    return this.#ask({ what: 'plan', given }) as ReturnType<ComputeForecasts['plan']>
  }

  update(...given: Parameters<ComputeForecasts['update']>): ReturnType<ComputeForecasts['update']> {
    return this.#ask({ what: 'update', given }) as ReturnType<ComputeForecasts['update']>
  }

  diagnose(...given: Parameters<ComputeForecasts['diagnose']>): ReturnType<ComputeForecasts['diagnose']> {
    return this.#ask({ what: 'diagnose', given }) as ReturnType<ComputeForecasts['diagnose']>
  }

  #ask(call: Call): Promise<unknown> {
    return inSpan(`engine ${call.what}`, {}, () => this.#post(call))
  }

  #post(call: Call): Promise<unknown> {
    if (this.#isClosed) return Promise.reject(new Error('the forecast thread is closed'))
    const id = this.#nextId++
    this.#worker ??= this.#start()
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject })
      this.#worker?.postMessage({ id, ...call })
      this.#worker?.ref()
    })
  }

  /** What is being computed is broken off, with an error for whoever waits. */
  async close(): Promise<void> {
    this.#isClosed = true
    const worker = this.#worker
    this.#worker = undefined
    await worker?.terminate()
  }

  #start(): Worker {
    const worker = startWorker({ resourceLimits: { maxOldGenerationSizeMb: this.#heapMib } })
    worker.on('message', (reply: ForecastReply) => this.#settle(reply))
    worker.on('error', (error) => this.#fail(worker, error))
    worker.on('exit', (code) => this.#fail(worker, new Error(`the forecast thread ended with ${code}`)))
    worker.unref()
    return worker
  }

  #settle(reply: ForecastReply): void {
    const waiting = this.#waiting.get(reply.id)
    this.#waiting.delete(reply.id)
    if (this.#waiting.size === 0) this.#worker?.unref()
    if ('answer' in reply) waiting?.resolve(reply.answer)
    else waiting?.reject(Object.assign(new Error(reply.failure.message), reply.failure))
  }

  #fail(worker: Worker, error: Error): void {
    if ('code' in error && error.code === 'ERR_WORKER_OUT_OF_MEMORY') this.#heapMib *= 2
    if (this.#worker === worker) this.#worker = undefined
    for (const { reject } of this.#waiting.values()) reject(error)
    this.#waiting.clear()
  }
}

/** Compiled in production; from the sources in development and tests, where a loader reads TypeScript. */
function startWorker(options: WorkerOptions): Worker {
  const fromSources = import.meta.url.endsWith('.ts')
  if (!fromSources) return new Worker(new URL('./forecast-worker.js', import.meta.url), options)
  const module = JSON.stringify(new URL('./forecast-worker.ts', import.meta.url).href)
  const load = `import('tsx/esm/api').then(({ register }) => { register(); return import(${module}) })`
  return new Worker(load, { ...options, eval: true })
}
