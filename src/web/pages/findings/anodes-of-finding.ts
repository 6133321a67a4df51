import type { DepletionView } from '../../../contract/forecasts.js'
import { type OccupiedPosition, occupiedPositions } from '../../../presentation/occupied-positions.js'
import { t } from './findings-words.js'

/** What a finding shows in, by boat, in the order of the finding. */
export function anodesByBoat(
  anodes: readonly { readonly boat: string; readonly anode: string }[],
): Map<string, string[]> {
  const byBoat = new Map<string, string[]>()
  for (const { boat, anode } of anodes) byBoat.set(boat, [...(byBoat.get(boat) ?? []), anode])
  return byBoat
}

/** The positions that anodes sit or sat at, each once; an anode whose place is empty now stands by itself. */
export function positionsOf(depletion: DepletionView, names: readonly string[]): OccupiedPosition[] {
  const wanted = new Set(names)
  const occupied = occupiedPositions(depletion).filter(({ current, before }) =>
    [current, ...before].some(({ anode }) => wanted.has(anode)),
  )
  const shown = new Set(occupied.flatMap(({ current, before }) => [current, ...before].map(({ anode }) => anode)))
  const gone = depletion.anodes.filter(({ anode }) => wanted.has(anode) && !shown.has(anode))
  return [...occupied, ...gone.map((current) => ({ current, before: [] }))]
}

/** Which anodes of a position share in a finding. @example sayAnodesAt(position, ['rudder 3']) // 'rudder 3, since replaced by rudder 4' */
export function sayAnodesAt({ current, before }: OccupiedPosition, names: readonly string[]): string {
  const oldestFirst = [...before.toReversed(), current].map(({ anode }) => anode)
  const sharing = oldestFirst.filter((anode) => names.includes(anode))
  const isInPlace = sharing.includes(current.anode)
  return isInPlace ? sharing.join(', ') : t('shows.replaced', { anodes: sharing.join(', '), by: current.anode })
}
