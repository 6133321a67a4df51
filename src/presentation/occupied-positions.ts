import type { DepletionView } from '../contract/forecasts.js'

type DepletionAnode = DepletionView['anodes'][number]

/** A position's anode in place, and those that sat there before it. */
export interface OccupiedPosition {
  readonly current: DepletionAnode
  readonly before: readonly DepletionAnode[]
}

/** Later than any date, for anodes expected beyond what the service looks at. */
const NEVER = '9999-12-31'

/** The anodes in place, the one due first in front, each with its predecessors, the latest first. */
export function occupiedPositions({ anodes, asOf }: DepletionView): OccupiedPosition[] {
  const current = anodes.filter((anode) => anode.removedOn === null || anode.removedOn > asOf)
  return current
    .toSorted((a, b) => compare(expectedOn(a), expectedOn(b)) || compare(a.anode, b.anode))
    .map((anode) => ({ current: anode, before: predecessors(anode, anodes) }))
}

function predecessors(anode: DepletionAnode, all: readonly DepletionAnode[]): DepletionAnode[] {
  return all
    .filter(
      (other) => other !== anode && other.position === anode.position && other.positionSlot === anode.positionSlot,
    )
    .filter((other) => other.removedOn !== null && (anode.fittedOn === null || other.removedOn <= anode.fittedOn))
    .toSorted((a, b) => compare(b.removedOn ?? '', a.removedOn ?? ''))
}

function expectedOn(anode: DepletionAnode): string {
  return anode.forecast?.replace.p50 ?? NEVER
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
