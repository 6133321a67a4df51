import { randomUUID } from 'node:crypto'
import { boats, fittings, owners } from '../../../db/schema/index.js'
import { forEachRow } from '../pauses.js'
import { type Batch, batch } from './batch.js'
import type { PlanContext } from './context.js'
import { ownerKey } from './fleet.js'

export async function planBoats({ files, fleet }: PlanContext): Promise<Batch[]> {
  const newOwners: { id: string; name: string | null; email: string | null }[] = []
  const rows: Omit<typeof boats.$inferInsert, 'organisationId'>[] = []
  const ownerId = (name: string | null, email: string | null) => {
    if (name === null && email === null) return null
    const key = ownerKey(name, email)
    const id = fleet.owners.get(key) ?? randomUUID()
    if (!fleet.owners.has(key)) newOwners.push({ id, name, email })
    fleet.owners.set(key, id)
    return id
  }
  await forEachRow(files['boats.csv']?.rows ?? [], ({ values }) => {
    const id = fleet.boats.get(values.boat) ?? randomUUID()
    fleet.boats.set(values.boat, id)
    rows.push({
      id,
      name: values.boat,
      ownerId: ownerId(values.owner_name, values.owner_email),
      hull: values.hull,
      galvanicIsolator: values.galvanic_isolator,
      launchedYear: values.launched_year,
    })
  })
  return [batch(null, owners, ['name', 'email'], newOwners), batch('boats.csv', boats, ['name'], rows)]
}

export async function planFittings(context: PlanContext): Promise<Batch[]> {
  const { fleet, files } = context
  const rows: Omit<typeof fittings.$inferInsert, 'organisationId'>[] = []
  await forEachRow(files['fittings.csv']?.rows ?? [], (row) => {
    const boatId = context.boatOf('fittings.csv', row)
    if (boatId === undefined) return
    const { values } = row
    const id = fleet.fittings.get(boatId, values.fitting) ?? randomUUID()
    fleet.fittings.set(boatId, values.fitting, id)
    rows.push({
      id,
      boatId,
      name: values.fitting,
      metal: values.metal,
      areaCm2: values.area_cm2,
      coated: values.coated,
      bonded: values.bonded,
    })
  })
  return [batch('fittings.csv', fittings, ['boatId', 'name'], rows)]
}
