import { eq } from 'drizzle-orm'
import type { Db } from '../../../db/client.js'
import { anodes, berths, boats, fittings, haulOuts, owners, pontoons, positions } from '../../../db/schema/index.js'
import type { ParsedFiles } from '../parsed-files.js'
import { Fleet, ownerKey } from './fleet.js'

/** Reads what the files may refer to; what none of them can mean is left in the database. */
export async function loadFleet(tx: Db, organisationId: string, files: ParsedFiles): Promise<Fleet> {
  const fleet = new Fleet()
  await loadBerths(tx, organisationId, fleet)
  await loadBoats(tx, organisationId, fleet)
  if (files['fittings.csv'] || files['potentials.csv'] || files['continuity.csv']) {
    await loadFittings(tx, organisationId, fleet)
  }
  if (files['anodes.csv'] || files['weighings.csv'] || files['continuity.csv']) {
    await loadAnodes(tx, organisationId, fleet)
  }
  if (files['weighings.csv'] || files['haul-outs.csv']) await loadHaulOuts(tx, organisationId, fleet)
  return fleet
}

async function loadBerths(tx: Db, organisationId: string, fleet: Fleet): Promise<void> {
  const named = { id: pontoons.id, name: pontoons.name }
  for (const row of await tx.select(named).from(pontoons).where(eq(pontoons.organisationId, organisationId))) {
    fleet.pontoons.set(row.name, row.id)
  }
  const columns = { id: berths.id, name: berths.name }
  for (const row of await tx.select(columns).from(berths).where(eq(berths.organisationId, organisationId))) {
    fleet.berths.set(row.name, row.id)
  }
}

async function loadBoats(tx: Db, organisationId: string, fleet: Fleet): Promise<void> {
  for (const row of await tx.select().from(owners).where(eq(owners.organisationId, organisationId))) {
    fleet.owners.set(ownerKey(row.name, row.email), row.id)
  }
  const columns = { id: boats.id, name: boats.name }
  for (const row of await tx.select(columns).from(boats).where(eq(boats.organisationId, organisationId))) {
    fleet.boats.set(row.name, row.id)
  }
}

async function loadFittings(tx: Db, organisationId: string, fleet: Fleet): Promise<void> {
  const columns = { id: fittings.id, boatId: fittings.boatId, name: fittings.name }
  for (const row of await tx.select(columns).from(fittings).where(eq(fittings.organisationId, organisationId))) {
    fleet.fittings.set(row.boatId, row.name, row.id)
  }
}

async function loadAnodes(tx: Db, organisationId: string, fleet: Fleet): Promise<void> {
  for (const row of await tx.select().from(positions).where(eq(positions.organisationId, organisationId))) {
    fleet.positions.set(row.id, row)
  }
  for (const row of await tx.select().from(anodes).where(eq(anodes.organisationId, organisationId))) {
    fleet.anodes.set(row.boatId, row.name, { ...row, isStored: true })
  }
}

async function loadHaulOuts(tx: Db, organisationId: string, fleet: Fleet): Promise<void> {
  const columns = { id: haulOuts.id, boatId: haulOuts.boatId, day: haulOuts.hauledOn }
  for (const row of await tx.select(columns).from(haulOuts).where(eq(haulOuts.organisationId, organisationId))) {
    fleet.haulOuts.set(row.boatId, row.day, row.id)
  }
}
