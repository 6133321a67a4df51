import { positionKindOf } from '../../contract/vocabulary.js'
import type { Db } from '../../db/client.js'
import { insertPosition, type OccupiedPosition, positionsOfLabel } from '../../db/repositories/anodes.js'

/** [fitted, removed); an unknown end is open. */
export interface Life {
  readonly fittedOn: string | null
  readonly removedOn: string | null
}

/** Whether two anodes would sit at one position on the same day. One fitted and removed on one day takes no day. */
export function livesOverlap(one: Life, other: Life): boolean {
  return !isEmpty(one) && !isEmpty(other) && startsBeforeEnd(one, other) && startsBeforeEnd(other, one)
}

function isEmpty({ fittedOn, removedOn }: Life): boolean {
  return fittedOn !== null && fittedOn === removedOn
}

function startsBeforeEnd({ fittedOn }: Life, { removedOn }: Life): boolean {
  return fittedOn === null || removedOn === null || fittedOn < removedOn
}

/**
 * Where an anode goes on a boat: the first position of this label that is free over its life, a new one where all are
 * taken. The caller holds the boat's lock, so that two who fit at once do not choose the same.
 *
 * @param exceptAnodeId an anode that moves: it does not stand in its own way
 * @returns id of the position
 */
export async function positionFor(
  tx: Db,
  at: { organisationId: string; boatId: string; label: string },
  life: Life,
  exceptAnodeId?: string,
): Promise<string> {
  const rows = await positionsOfLabel(tx, at.organisationId, at.boatId, at.label)
  const taken = new Set(rows.filter((row) => blocks(row, life, exceptAnodeId)).map((row) => row.id))
  const free = rows.find((row) => !taken.has(row.id))
  if (free) return free.id
  return insertPosition(tx, at.organisationId, {
    boatId: at.boatId,
    label: rows[0]?.label ?? at.label,
    slot: Math.max(0, ...rows.map((row) => row.slot)) + 1,
    kind: positionKindOf(at.label),
  })
}

function blocks(row: OccupiedPosition, life: Life, exceptAnodeId: string | undefined): boolean {
  return row.anodeId !== null && row.anodeId !== exceptAnodeId && livesOverlap(row, life)
}
