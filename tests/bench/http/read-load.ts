import autocannon from 'autocannon'
import { type Measured, percentiles } from './closed-loop.js'

export interface ReadLoad {
  readonly url: string
  readonly headers: Readonly<Record<string, string>>
  readonly requests: number
  readonly atOnce: number
}

/** On a machine that does much else an answer may take long: that is measured, not cut off. */
const PATIENCE_S = 120

/** The same page read again and again. @throws Error when an answer is none of 2xx */
export async function readLoad({ url, headers, requests, atOnce }: ReadLoad): Promise<Measured> {
  const waited: number[] = []
  const running = autocannon({ url, headers, connections: atOnce, amount: requests, timeout: PATIENCE_S })
  const began = performance.now()
  // Its own clock goes by whole seconds.
  let endedAt = began
  running.on('response', (_client, _status, _bytes, milliseconds) => {
    waited.push(milliseconds)
    endedAt = performance.now()
  })
  const { non2xx, errors } = await running
  const seconds = (endedAt - began) / 1000
  if (non2xx > 0 || errors > 0) throw new Error(`${url}: ${non2xx} answers other than 2xx, ${errors} errors`)
  return { perSecond: waited.length / seconds, ...percentiles(waited) }
}
