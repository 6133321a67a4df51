import { randomUUID } from 'node:crypto'
import { type PositionKind, positionKindOf } from '../../../contract/vocabulary.js'
import { anodes, positions } from '../../../db/schema/index.js'
import type { ParsedRow } from '../parsed-files.js'
import { forEachRow } from '../pauses.js'
import { type Batch, batch } from './batch.js'
import type { PlanContext } from './context.js'
import type { Fleet, FleetAnode, FleetPosition } from './fleet.js'
import { allotSlots, MOST_SLOTS, type Occupant } from './slots.js'

type AnodeRow = ParsedRow<'anodes.csv'>

/** An anode of the file that still has to find its place among those of the same label. */
interface Placing {
  readonly row: AnodeRow
  readonly boatId: string
  readonly stored: FleetAnode | undefined
}

interface NewPosition extends FleetPosition {
  readonly kind: PositionKind
}

export interface AnodePlan {
  readonly batches: Batch[]
  /**
   * Anodes whose core mass rises: a stored weighing may lie below it until the same import has corrected that weighing,
   * and the database holds each row against the other as it is written.
   */
  readonly afterWeighings: Batch
}

export async function planAnodes(context: PlanContext): Promise<AnodePlan> {
  const placings: Placing[] = []
  await forEachRow(context.files['anodes.csv']?.rows ?? [], (row) => {
    const boatId = context.boatOf('anodes.csv', row)
    if (boatId === undefined) return
    checkAnode(context, row)
    placings.push({ row, boatId, stored: context.fleet.anodes.get(boatId, row.values.anode) })
  })
  const newPositions = await placeAll(context, placings)
  const anodesOf = (some: readonly Placing[]) =>
    batch(
      'anodes.csv',
      anodes,
      ['boatId', 'name'],
      some.map(({ row, boatId }) => anodeValues(context, row, boatId)),
    )
  return {
    batches: [
      batch(null, positions, ['boatId', 'label', 'slot'], newPositions),
      anodesOf(placings.filter((placing) => !raisesCore(placing))),
    ],
    afterWeighings: anodesOf(placings.filter(raisesCore)),
  }
}

function raisesCore({ row, stored }: Placing): boolean {
  return stored !== undefined && (row.values.core_mass_g ?? 0) > (stored.coreMassG ?? 0)
}

function checkAnode(context: PlanContext, row: AnodeRow): void {
  const { fitted_on, removed_on, gross_mass_g, core_mass_g } = row.values
  context.refuseFuture('anodes.csv', row, 'fitted_on', fitted_on)
  context.refuseFuture('anodes.csv', row, 'removed_on', removed_on)
  if (fitted_on !== null && removed_on !== null && removed_on < fitted_on) {
    context.refuse('anodes.csv', row, 'removed_on', `removed on ${removed_on}, before it was fitted on ${fitted_on}`)
  }
  if (gross_mass_g !== null && core_mass_g !== null && core_mass_g >= gross_mass_g) {
    const detail = `a core of ${core_mass_g} g leaves nothing of the ${gross_mass_g} g that the whole anode weighed`
    context.refuse('anodes.csv', row, 'core_mass_g', detail)
  }
}

/** Gives every anode of the file its position, and puts it into the fleet. */
async function placeAll(context: PlanContext, placings: readonly Placing[]): Promise<NewPosition[]> {
  const { fleet } = context
  const newPositions: NewPosition[] = []
  const positionAt = positionFinder(fleet, newPositions)
  const staying = stayingByPlace(fleet, placings)
  await forEachRow([...byPlace(placings)], ([place, group]) => {
    const slots = allotSlots([...(staying.get(place) ?? []), ...group.map((placing) => occupantOf(fleet, placing))])
    for (const { row, boatId, stored } of group) {
      const slot = slots.get(row.values.anode)
      if (slot === undefined) context.refuse('anodes.csv', row, 'position', TOO_MANY)
      const position = positionAt(boatId, row.values.position, slot ?? 1)
      fleet.anodes.set(boatId, row.values.anode, fleetAnode(row, boatId, position.id, stored))
    }
  })
  return newPositions
}

const TOO_MANY = `more than ${MOST_SLOTS} anodes would sit here at once: are the days of their removal missing?`

function positionFinder(fleet: Fleet, newPositions: NewPosition[]) {
  const known = new Map<string, FleetPosition>(
    [...fleet.positions.values()].map((position) => [placeKey(position), position]),
  )
  return (boatId: string, label: string, slot: number): FleetPosition => {
    const found = known.get(placeKey({ boatId, label, slot }))
    if (found) return found
    const made = { id: randomUUID(), boatId, label, slot, kind: positionKindOf(label) }
    known.set(placeKey(made), made)
    newPositions.push(made)
    return made
  }
}

/** Those of one boat and label together. */
function byPlace(placings: readonly Placing[]): Map<string, Placing[]> {
  const groups = new Map<string, Placing[]>()
  for (const placing of placings) addTo(groups, labelKey(placing.boatId, placing.row.values.position), placing)
  return groups
}

/** Stored anodes of the file's boats that the file does not mention, by boat and label. */
function stayingByPlace(fleet: Fleet, placings: readonly Placing[]): Map<string, Occupant[]> {
  const inFile = new Set(placings.flatMap(({ stored }) => (stored ? [stored.id] : [])))
  const places = new Map<string, Occupant[]>()
  for (const boatId of new Set(placings.map((placing) => placing.boatId))) {
    for (const anode of fleet.anodes.of(boatId)) {
      const position = fleet.positions.get(anode.positionId)
      if (inFile.has(anode.id) || !position) continue
      const occupant = { name: anode.name, from: anode.fittedOn, to: anode.removedOn, slot: position.slot }
      addTo(places, labelKey(boatId, position.label), occupant)
    }
  }
  return places
}

function addTo<T>(groups: Map<string, T[]>, key: string, item: T): void {
  const group = groups.get(key)
  if (group) group.push(item)
  else groups.set(key, [item])
}

function labelKey(boatId: string, label: string): string {
  return JSON.stringify([boatId, label])
}

function occupantOf(fleet: Fleet, { row: { values }, stored }: Placing) {
  const position = stored && fleet.positions.get(stored.positionId)
  const slot = position?.label === values.position ? position.slot : null
  return { name: values.anode, from: values.fitted_on, to: values.removed_on, slot }
}

function placeKey({ boatId, label, slot }: Pick<FleetPosition, 'boatId' | 'label' | 'slot'>): string {
  return JSON.stringify([boatId, label, slot])
}

function fleetAnode(row: AnodeRow, boatId: string, positionId: string, stored: FleetAnode | undefined): FleetAnode {
  const { values } = row
  return {
    id: stored?.id ?? randomUUID(),
    boatId,
    name: values.anode,
    positionId,
    isStored: stored !== undefined,
    row,
    fittedOn: values.fitted_on,
    removedOn: values.removed_on,
    grossMassG: values.gross_mass_g,
    coreMassG: values.core_mass_g,
    lengthMm: values.length_mm,
    widthMm: values.width_mm,
    heightMm: values.height_mm,
  }
}

function anodeValues({ fleet }: PlanContext, { values }: AnodeRow, boatId: string) {
  const placed = fleet.anodes.get(boatId, values.anode)
  if (!placed) throw new Error(`anode ${values.anode} was not placed`)
  return {
    id: placed.id,
    boatId,
    positionId: placed.positionId,
    name: values.anode,
    alloy: values.alloy,
    shape: values.shape,
    fittedOn: values.fitted_on,
    removedOn: values.removed_on,
    grossMassG: values.gross_mass_g,
    coreMassG: values.core_mass_g,
    lengthMm: values.length_mm,
    widthMm: values.width_mm,
    heightMm: values.height_mm,
    bonded: values.bonded,
  }
}
