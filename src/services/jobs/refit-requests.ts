import type { JobView } from '../../contract/jobs.js'
import type { Db } from '../../db/client.js'
import type { Acting } from '../../db/in-organisation.js'

/** How a service that changed a fleet's data asks for its forecasts to be made anew. */
export interface RefitRequests {
  /** Within the caller's transaction: no job is left behind when that rolls back. Requests close together share one job. */
  request(tx: Db, acting: Acting): Promise<JobView>
}
