import { randomUUID } from 'node:crypto'
import type { JobView } from '../../src/contract/jobs.js'
import type { Db } from '../../src/db/client.js'
import type { Acting } from '../../src/db/in-organisation.js'
import type { RefitRequests } from '../../src/services/jobs/refit-requests.js'

/** Stands for the queue outside: keeps who asked for a refit, and runs none. */
export class RecordedRefits implements RefitRequests {
  readonly askedBy: string[] = []

  async request(_tx: Db, { actor }: Acting): Promise<JobView> {
    this.askedBy.push(actor)
    return {
      id: randomUUID(),
      kind: 'refit',
      state: 'queued',
      progress: 0,
      step: null,
      error: null,
      createdAt: new Date().toISOString(),
      startedAt: null,
      finishedAt: null,
    }
  }
}
