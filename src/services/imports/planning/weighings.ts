import { and, eq, sql } from 'drizzle-orm'
import type { CsvRowOf } from '../../../contract/csv/index.js'
import type { Db } from '../../../db/client.js'
import { weighings } from '../../../db/schema/index.js'
import { type Doubt, isConfirmable, judgeWeighing } from '../../weighings/plausibility.js'
import { DIMENSIONS, type KnownMass, knownMassOf, type Measured } from '../../weighings/weighing-errors.js'
import type { ParsedRow } from '../parsed-files.js'
import { forEachRow } from '../pauses.js'
import { type Batch, batch } from './batch.js'
import type { PlanContext } from './context.js'
import type { FleetAnode } from './fleet.js'

type WeighingRow = ParsedRow<'weighings.csv'>
type NewWeighing = Omit<typeof weighings.$inferInsert, 'organisationId'>
type StoredWeighing = typeof weighings.$inferSelect

/** What is known of an anode on one day: from a row of the file, or else from what is stored. */
interface Entry {
  readonly measured: Measured
  readonly row?: WeighingRow
  /** Whether the row says what is stored already. */
  readonly isUnchanged?: boolean
}

interface History {
  readonly anode: FleetAnode
  readonly byDay: Map<string, Entry>
}

export async function planWeighings(tx: Db, organisationId: string, context: PlanContext): Promise<Batch[]> {
  const histories = new Map<string, History>()
  // Apart, for a row says nothing of the haul-out of a weighing on a day without one.
  const atHaulOuts: NewWeighing[] = []
  const others: NewWeighing[] = []
  for (const { values } of context.files['anodes.csv']?.rows ?? []) begin(histories, anodeNamed(context, values))
  await forEachRow(context.files['weighings.csv']?.rows ?? [], (row) => {
    const boatId = context.boatOf('weighings.csv', row)
    const anode = boatId === undefined ? undefined : context.anodeOf('weighings.csv', row, boatId)
    const history = begin(histories, anode)
    if (!anode || !history) return
    const measured = measuredOf(row.values)
    history.byDay.set(measured.weighedOn, { measured, row })
    const haulOutId = context.fleet.haulOuts.get(anode.boatId, measured.weighedOn)
    const values = weighingValues(row.values, anode.id)
    if (haulOutId === undefined) others.push(values)
    else atHaulOuts.push({ ...values, haulOutId })
  })
  await addStored(tx, organisationId, histories)
  await forEachRow([...histories.values()], (history) => judge(context, history))
  return [atHaulOuts, others].map((rows) => batch('weighings.csv', weighings, ['anodeId', 'weighedOn'], rows))
}

function anodeNamed({ fleet }: PlanContext, { boat, anode }: CsvRowOf<'anodes.csv'>): FleetAnode | undefined {
  const boatId = fleet.boats.get(boat)
  return boatId === undefined ? undefined : fleet.anodes.get(boatId, anode)
}

function begin(histories: Map<string, History>, anode: FleetAnode | undefined): History | undefined {
  if (!anode) return undefined
  const begun = histories.get(anode.id) ?? { anode, byDay: new Map() }
  histories.set(anode.id, begun)
  return begun
}

/** Anodes whose weighings are read at once. */
const ANODES_A_QUERY = 200

async function addStored(tx: Db, organisationId: string, histories: Map<string, History>): Promise<void> {
  const ids = [...histories.values()].flatMap(({ anode }) => (anode.isStored ? [anode.id] : []))
  for (let start = 0; start < ids.length; start += ANODES_A_QUERY) {
    const some = sql.param(ids.slice(start, start + ANODES_A_QUERY))
    const stored = await tx
      .select()
      .from(weighings)
      .where(and(eq(weighings.organisationId, organisationId), sql`${weighings.anodeId} = any(${some}::uuid[])`))
    await forEachRow(stored, (weighing) => addWeighing(histories, weighing))
  }
}

function addWeighing(histories: Map<string, History>, weighing: StoredWeighing): void {
  const byDay = histories.get(weighing.anodeId)?.byDay
  const given = byDay?.get(weighing.weighedOn)
  const isUnchanged = given?.row !== undefined && isSame(given.measured, weighing)
  byDay?.set(weighing.weighedOn, { ...(given ?? { measured: weighing }), isUnchanged })
}

function isSame(given: Measured, stored: StoredWeighing): boolean {
  return (Object.keys(given) as (keyof Measured)[]).every((member) => given[member] === stored[member])
}

function judge(context: PlanContext, { anode, byDay }: History): void {
  const entries = [...byDay.values()].sort((a, b) => (a.measured.weighedOn < b.measured.weighedOn ? -1 : 1))
  let previous: KnownMass | null = null
  entries.forEach((entry, index) => {
    if (entry.row) judgeRow(context, anode, entry, previous, nextStored(entries[index + 1], anode))
    else refuseAnode(context, anode, entry.measured)
    const known = entry.measured.method === 'scale' ? knownMassOf(entry.measured, anode) : null
    previous = known ?? previous
  })
}

/** A later row of the file is held against this one in its own turn; a stored one only here. */
function nextStored(next: Entry | undefined, anode: FleetAnode): KnownMass | null {
  return next && !next.row ? knownMassOf(next.measured, anode) : null
}

function judgeRow(
  context: PlanContext,
  anode: FleetAnode,
  { row, measured, isUnchanged }: Entry,
  previous: KnownMass | null,
  next: KnownMass | null,
): void {
  if (!row) return
  const { confirmed, today } = context
  const doubts = judgeWeighing({ anode, previous, next, weighing: measured, today, confirmed })
  for (const doubt of doubts) {
    // What is stored was accepted, or confirmed by somebody: the same row again changes nothing.
    const isSettled = isUnchanged && isConfirmable(doubt.code)
    if (isSettled || lacksDimensionWhenNew(doubt, measured)) continue
    if (doubt.code === 'heavier-than-before') context.ask('weighings.csv', row, COLUMN_OF[doubt.field], doubt.detail)
    else context.refuse('weighings.csv', row, COLUMN_OF[doubt.field], doubt.detail)
  }
}

/** Files leave cells empty that nobody knows: a dimension that cannot be compared is kept for when the other is found. */
function lacksDimensionWhenNew(doubt: Doubt, measured: Measured): boolean {
  return doubt.code === 'missing' && DIMENSIONS.some((name) => name === doubt.field && measured[name] !== null)
}

/** A stored weighing that the anode's new dates or core mass would make impossible. */
function refuseAnode(context: PlanContext, anode: FleetAnode, { weighedOn, massG, resolutionG }: Measured): void {
  if (!anode.row) return
  const refuse = (column: 'fitted_on' | 'removed_on' | 'core_mass_g', detail: string) =>
    anode.row && context.refuse('anodes.csv', anode.row, column, detail)
  if (anode.fittedOn !== null && weighedOn < anode.fittedOn)
    refuse('fitted_on', `it was weighed before, on ${weighedOn}`)
  if (anode.removedOn !== null && weighedOn > anode.removedOn) {
    refuse('removed_on', `it was weighed after that, on ${weighedOn}`)
  }
  if (massG !== null && anode.coreMassG !== null && massG + (resolutionG ?? 0) < anode.coreMassG) {
    refuse('core_mass_g', `it weighed less on ${weighedOn}, core included: ${massG} g`)
  }
}

const COLUMN_OF = {
  weighedOn: 'weighed_on',
  method: 'method',
  massG: 'mass_g',
  resolutionG: 'resolution_g',
  cleaned: 'cleaned',
  submergedMassG: 'submerged_mass_g',
  wastedPercent: 'wasted_percent',
  lengthMm: 'length_mm',
  widthMm: 'width_mm',
  heightMm: 'height_mm',
} as const satisfies Record<keyof Measured, keyof CsvRowOf<'weighings.csv'>>

function measuredOf(values: CsvRowOf<'weighings.csv'>): Measured {
  return {
    weighedOn: values.weighed_on,
    method: values.method,
    massG: values.mass_g,
    resolutionG: values.resolution_g,
    cleaned: values.cleaned,
    submergedMassG: values.submerged_mass_g,
    wastedPercent: values.wasted_percent,
    lengthMm: values.length_mm,
    widthMm: values.width_mm,
    heightMm: values.height_mm,
  }
}

function weighingValues(values: CsvRowOf<'weighings.csv'>, anodeId: string) {
  const { submerged_in: submergedIn, condition: conditions } = values
  return { anodeId, ...measuredOf(values), submergedIn, conditions }
}
