import { FittedFleets } from '../../src/services/model/fitted-fleets.js'
import { RefitService } from '../../src/services/model/refit.js'
import type { TestServer } from './server.js'

/** Fits the test's fleet and issues its forecasts, as the queue would. */
export async function refitNow({ database, organisationId }: TestServer, now: () => Date): Promise<void> {
  await new RefitService(database.service, new FittedFleets(), now).refit(organisationId, async () => undefined)
}
