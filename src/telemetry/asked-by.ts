import { AsyncLocalStorage } from 'node:async_hooks'

/** On whose account something is done: it goes into the log, so that a slow statement is found with its request. */
export interface AskedBy {
  /** As the answer's X-Request-Id; of a job that of the request that asked for it. */
  readonly requestId?: string | undefined
  readonly jobId?: string | undefined
}

const storage = new AsyncLocalStorage<AskedBy>()
const NOBODY: AskedBy = {}

/** Empty for what nobody asked for: the polling of queues, what goes by the clock. */
export function askedBy(): AskedBy {
  return storage.getStore() ?? NOBODY
}

export function runAskedBy<Answer>(who: AskedBy, work: () => Answer): Answer {
  return storage.run(who, work)
}
