import type { JobView } from '../../contract/jobs.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { readJob } from '../../db/repositories/jobs.js'
import type { Actor } from '../actor.js'
import { NotFound } from '../errors.js'

/** Jobs as whoever waits for one may follow it. */
export class FollowedJobs {
  readonly #db: Db

  constructor(db: Db) {
    this.#db = db
  }

  /** @throws NotFound */
  read(actor: Actor, id: string): Promise<JobView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const job = await readJob(tx, actor.organisationId, id)
      if (job === undefined) throw new NotFound(`job ${id}`)
      return job
    })
  }
}
