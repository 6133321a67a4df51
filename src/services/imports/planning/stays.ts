import { randomUUID } from 'node:crypto'
import { and, eq, sql } from 'drizzle-orm'
import type { Db } from '../../../db/client.js'
import { haulOuts, stays } from '../../../db/schema/index.js'
import type { ParsedRow } from '../parsed-files.js'
import { forEachRow } from '../pauses.js'
import { type Batch, batch } from './batch.js'
import type { PlanContext } from './context.js'
import { overlap } from './slots.js'

interface KnownStay {
  readonly from: string
  readonly to: string | null
  /** Undefined for one that is stored and not in the file. */
  readonly row?: ParsedRow<'stays.csv'>
}

export async function planStays(tx: Db, organisationId: string, context: PlanContext): Promise<Batch[]> {
  const rows: Omit<typeof stays.$inferInsert, 'organisationId'>[] = []
  const ofBoats = new Map<string, Map<string, KnownStay>>()
  await forEachRow(context.files['stays.csv']?.rows ?? [], (row) => {
    const boatId = context.boatOf('stays.csv', row)
    const berthId = context.berthOf('stays.csv', row)
    if (boatId === undefined) return
    const { from, to, shore_power_hours_per_day } = row.values
    if (to !== null && to < from) context.refuse('stays.csv', row, 'to', `ends on ${to}, before it begins on ${from}`)
    else addStay(ofBoats, boatId, { from, to, row })
    rows.push({ boatId, berthId, fromOn: from, toOn: to, shorePowerHoursPerDay: shore_power_hours_per_day })
  })
  await addStored(tx, organisationId, ofBoats)
  await forEachRow([...ofBoats.values()], (ofBoat) => refuseOverlaps(context, [...ofBoat.values()]))
  return [batch('stays.csv', stays, ['boatId', 'fromOn'], rows)]
}

function addStay(ofBoats: Map<string, Map<string, KnownStay>>, boatId: string, stay: KnownStay): void {
  const ofBoat = ofBoats.get(boatId) ?? new Map<string, KnownStay>()
  // The file's row counts, not the stored one that it replaces.
  if (!ofBoat.has(stay.from)) ofBoat.set(stay.from, stay)
  ofBoats.set(boatId, ofBoat)
}

async function addStored(tx: Db, organisationId: string, ofBoats: Map<string, Map<string, KnownStay>>): Promise<void> {
  if (ofBoats.size === 0) return
  const stored = await tx
    .select({ boatId: stays.boatId, from: stays.fromOn, to: stays.toOn })
    .from(stays)
    .where(
      and(
        eq(stays.organisationId, organisationId),
        sql`${stays.boatId} = any(${sql.param([...ofBoats.keys()])}::uuid[])`,
      ),
    )
  for (const { boatId, from, to } of stored) addStay(ofBoats, boatId, { from, to })
}

function refuseOverlaps(context: PlanContext, unordered: readonly KnownStay[]): void {
  const ordered = unordered.filter((stay) => stay.from !== stay.to).sort((a, b) => (a.from < b.from ? -1 : 1))
  ordered.forEach((stay, index) => {
    const before = ordered[index - 1]
    if (!before || !overlap(before, stay)) return
    if (stay.row) context.refuse('stays.csv', stay.row, 'from', `overlaps the stay ${wording(before)}`)
    else if (before.row) context.refuse('stays.csv', before.row, 'to', `overlaps the stay ${wording(stay)}`)
  })
}

function wording({ from, to, row }: KnownStay): string {
  const where = row ? `on line ${row.line}` : 'that is stored'
  return `${where}, from ${from} ${to === null ? 'with no end' : `to ${to}`}`
}

export async function planHaulOuts(context: PlanContext): Promise<Batch[]> {
  const rows: Omit<typeof haulOuts.$inferInsert, 'organisationId'>[] = []
  await forEachRow(context.files['haul-outs.csv']?.rows ?? [], (row) => {
    const boatId = context.boatOf('haul-outs.csv', row)
    if (boatId === undefined) return
    const { on, relaunched_on, planned } = row.values
    if (planned !== true) {
      context.refuseFuture('haul-outs.csv', row, 'on', on)
      context.refuseFuture('haul-outs.csv', row, 'relaunched_on', relaunched_on)
    }
    if (relaunched_on !== null && relaunched_on < on) {
      context.refuse('haul-outs.csv', row, 'relaunched_on', `relaunched on ${relaunched_on}, before the lift on ${on}`)
    }
    const id = context.fleet.haulOuts.get(boatId, on) ?? randomUUID()
    context.fleet.haulOuts.set(boatId, on, id)
    rows.push({ id, boatId, hauledOn: on, relaunchedOn: relaunched_on, planned })
  })
  return [batch('haul-outs.csv', haulOuts, ['boatId', 'hauledOn'], rows)]
}
