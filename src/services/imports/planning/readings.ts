import { BOND } from '../../../contract/continuity.js'
import { continuityReadings, potentials } from '../../../db/schema/index.js'
import type { ParsedRow } from '../parsed-files.js'
import { forEachRow } from '../pauses.js'
import { type Batch, batch } from './batch.js'
import type { PlanContext } from './context.js'

export async function planPotentials(context: PlanContext): Promise<Batch[]> {
  const rows: Omit<typeof potentials.$inferInsert, 'organisationId'>[] = []
  await forEachRow(context.files['potentials.csv']?.rows ?? [], (row) => {
    const { values } = row
    context.refuseFuture('potentials.csv', row, 'measured_at', values.measured_at)
    const boatId = context.boatOf('potentials.csv', row)
    if (boatId === undefined) return
    rows.push({
      boatId,
      fittingId: context.fittingOf('potentials.csv', row, boatId),
      measuredAt: values.measured_at,
      reference: values.reference,
      volts: values.volts,
      shorePower: values.shore_power,
      circuits: values.circuits,
    })
  })
  return [batch('potentials.csv', potentials, ['boatId', 'measuredAt', 'fittingId'], rows)]
}

export async function planContinuity(context: PlanContext): Promise<Batch[]> {
  const rows: Omit<typeof continuityReadings.$inferInsert, 'organisationId'>[] = []
  await forEachRow(context.files['continuity.csv']?.rows ?? [], (row) => {
    const { measured_at, from, to, ohms } = row.values
    context.refuseFuture('continuity.csv', row, 'measured_at', measured_at)
    const boatId = context.boatOf('continuity.csv', row)
    if (boatId === undefined) return
    checkEnd(context, row, boatId, 'from')
    checkEnd(context, row, boatId, 'to')
    rows.push({ boatId, measuredAt: measured_at, fromName: from, toName: to, ohms })
  })
  return [batch('continuity.csv', continuityReadings, ['boatId', 'measuredAt', 'fromName', 'toName'], rows)]
}

function checkEnd(context: PlanContext, row: ParsedRow<'continuity.csv'>, boatId: string, end: 'from' | 'to'): void {
  const name = row.values[end]
  const { fittings, anodes } = context.fleet
  if (name === BOND || fittings.get(boatId, name) !== undefined || anodes.get(boatId, name)) return
  if (context.isIncomplete('fittings.csv') || context.isIncomplete('anodes.csv')) return
  const detail = `"${row.values.boat}" has no fitting and no anode called "${name}"; its bond is called "${BOND}"`
  context.refuse('continuity.csv', row, end, detail)
}
