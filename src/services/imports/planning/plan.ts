import type { Db } from '../../../db/client.js'
import { planAnodes } from './anodes.js'
import type { Batch } from './batch.js'
import { planBerths } from './berths.js'
import { planBoats, planFittings } from './boats.js'
import type { PlanContext } from './context.js'
import { planContinuity, planPotentials } from './readings.js'
import { planHaulOuts, planStays } from './stays.js'
import { planWeighings } from './weighings.js'

/** What to write, each table after those it refers to; every rule of the files is checked on the way. */
export async function planImport(tx: Db, organisationId: string, context: PlanContext): Promise<Batch[]> {
  const standing = [...(await planBerths(context)), ...(await planBoats(context)), ...(await planFittings(context))]
  const { batches, afterWeighings } = await planAnodes(context)
  return [
    ...standing,
    ...batches,
    ...(await planStays(tx, organisationId, context)),
    ...(await planHaulOuts(context)),
    ...(await planWeighings(tx, organisationId, context)),
    afterWeighings,
    ...(await planPotentials(context)),
    ...(await planContinuity(context)),
  ]
}
