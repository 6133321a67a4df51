import { randomUUID } from 'node:crypto'
import { berths, pontoons } from '../../../db/schema/index.js'
import { forEachRow } from '../pauses.js'
import { type Batch, batch } from './batch.js'
import type { PlanContext } from './context.js'

export async function planBerths({ files, fleet }: PlanContext): Promise<Batch[]> {
  const newPontoons: { id: string; name: string }[] = []
  const rows: Omit<typeof berths.$inferInsert, 'organisationId'>[] = []
  const pontoonId = (name: string | null) => {
    if (name === null) return null
    const id = fleet.pontoons.get(name) ?? randomUUID()
    if (!fleet.pontoons.has(name)) newPontoons.push({ id, name })
    fleet.pontoons.set(name, id)
    return id
  }
  await forEachRow(files['berths.csv']?.rows ?? [], ({ values }) => {
    const id = fleet.berths.get(values.berth) ?? randomUUID()
    fleet.berths.set(values.berth, id)
    rows.push({
      id,
      name: values.berth,
      pontoonId: pontoonId(values.pontoon),
      water: values.water,
      salinityPsu: values.salinity_psu,
      latitude: values.latitude,
      longitude: values.longitude,
      shorePower: values.shore_power,
    })
  })
  return [batch(null, pontoons, ['name'], newPontoons), batch('berths.csv', berths, ['name'], rows)]
}
