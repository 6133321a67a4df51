/** Days that something occupies: [from, to), open where unknown. */
export interface Span {
  readonly from: string | null
  readonly to: string | null
}

export interface Occupant extends Span {
  readonly name: string
  /** Where it sits already; null for one that has yet to find a place. */
  readonly slot: number | null
}

/** No boat carries more anodes under one label at once; without a limit the search would grow with their square. */
export const MOST_SLOTS = 500

/**
 * Gives each anode of one label a slot in which no other sits at the same time: who has one keeps it, the others take
 * the first that is free over their whole life, in the order they were fitted. The same anodes get the same slots,
 * however their rows are ordered.
 *
 * @returns slot (from 1) by name; nothing for one that comes after `MOST_SLOTS` others at the same time
 */
export function allotSlots(occupants: readonly Occupant[]): Map<string, number> {
  const taken: Span[][] = []
  const slots = new Map<string, number>()
  const isFree = (slot: number, span: Span) => !(taken[slot - 1] ?? []).some((other) => overlap(other, span))
  const take = (occupant: Occupant, slot: number) => {
    while (taken.length < slot) taken.push([])
    taken[slot - 1]?.push(occupant)
    slots.set(occupant.name, slot)
  }
  const inOrder = [...occupants].sort(byFitting)
  for (const occupant of inOrder) {
    if (occupant.slot !== null && isFree(occupant.slot, occupant)) take(occupant, occupant.slot)
  }
  for (const occupant of inOrder) {
    if (slots.has(occupant.name)) continue
    let slot = 1
    while (slot <= MOST_SLOTS && !isFree(slot, occupant)) slot += 1
    if (slot <= MOST_SLOTS) take(occupant, slot)
  }
  return slots
}

function byFitting(a: Occupant, b: Occupant): number {
  return compare(a.from ?? '', b.from ?? '') || compare(a.to ?? '~', b.to ?? '~') || compare(a.name, b.name)
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}

/** Whether two spans share a day; one that ends on the day it began holds none. */
export function overlap(a: Span, b: Span): boolean {
  if (isEmpty(a) || isEmpty(b)) return false
  return !(endsBefore(a, b) || endsBefore(b, a))
}

function isEmpty({ from, to }: Span): boolean {
  return from !== null && from === to
}

function endsBefore(first: Span, second: Span): boolean {
  return first.to !== null && second.from !== null && first.to <= second.from
}
