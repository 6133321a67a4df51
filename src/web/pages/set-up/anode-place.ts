import { UNKNOWN_POSITION } from '../../../contract/csv/anodes.js'
import type { PositionKind } from '../../../contract/vocabulary.js'

/**
 * The label of a position: its kind, and behind that what the yard says of it. A part that is none of the list goes by the
 * yard's words alone.
 *
 * @example placeLabel('hull', 'port aft') // 'hull port aft'
 */
export function placeLabel(kind: PositionKind | '', where: string): string {
  const known = kind === UNKNOWN_POSITION ? '' : kind
  return `${known} ${where.trim()}`.trim() || kind
}

/**
 * A name that no other anode of the boat has, also none of those taken off: a name tells them apart for good.
 *
 * @example freeName('shaft', ['Shaft']) // 'shaft 2'
 */
export function freeName(name: string, taken: readonly string[]): string {
  const known = new Set(taken.map((each) => each.toLowerCase()))
  if (name === '' || !known.has(name.toLowerCase())) return name
  let number = 2
  while (known.has(`${name} ${number}`.toLowerCase())) number++
  return `${name} ${number}`
}
