import type { Anomaly } from '../../engine/diagnosis/anomaly.js'

/** What an anomaly is known by from one fit to the next. */
export type Trace = Pick<Anomaly, 'scope' | 'boat' | 'berth' | 'pontoon' | 'direction' | 'anodes' | 'onset'>

/** Where anodes sit, as a key of boat and position: an anode that was replaced has a successor there. */
export type PlaceOfAnode = (anode: string) => string | undefined

/** How near two traces are: 0 where they cannot be one fault. */
export type Likeness = (one: Trace, other: Trace) => number

/** A fault that comes back after more than two years is another one. Convention. */
const SAME_FAULT_WITHIN_DAYS = 730
const SHARED_ANODES_COUNT = 4
const SAME_EXTENT_COUNTS = 2
const SAME_TIME_COUNTS = 1

/**
 * Whether two traces are of one fault, and how surely. They go in one direction; they share anodes, or they reach equally far at one
 * place (position, boat, berth, pontoon) at about the same time. The scope may differ: a fault that showed in one anode first shows
 * in the whole boat later.
 */
export function likenessBy(placeOf: PlaceOfAnode): Likeness {
  return (one, other) => {
    if (one.direction !== other.direction) return 0
    const shared = sharedShare(one.anodes, other.anodes)
    const isSameExtent = one.scope === other.scope && extentOf(one, placeOf) === extentOf(other, placeOf)
    const apart = daysApart(one, other)
    if (shared === 0 && !(isSameExtent && apart <= SAME_FAULT_WITHIN_DAYS)) return 0
    return (
      SHARED_ANODES_COUNT * shared +
      (isSameExtent ? SAME_EXTENT_COUNTS : 0) +
      (SAME_TIME_COUNTS * SAME_FAULT_WITHIN_DAYS) / (SAME_FAULT_WITHIN_DAYS + apart)
    )
  }
}

/** Of the anodes of either, the share that is in both. */
function sharedShare(one: readonly string[], other: readonly string[]): number {
  const common = one.filter((key) => other.includes(key)).length
  return common === 0 ? 0 : common / (one.length + other.length - common)
}

function extentOf({ scope, boat, berth, pontoon, anodes }: Trace, placeOf: PlaceOfAnode): string {
  switch (scope) {
    case 'anode':
      return JSON.stringify([boat, placeOf(anodes[0] ?? '') ?? anodes[0]])
    case 'boat':
      return JSON.stringify([boat])
    case 'berth':
      return JSON.stringify([berth])
    case 'pontoon':
      return JSON.stringify([pontoon])
  }
}

/** Between the intervals of their begins; none where either was so from the first day on. */
function daysApart({ onset: one }: Trace, { onset: other }: Trace): number {
  if (one === null || other === null) return 0
  return Math.max(0, one.p10 - other.p90, other.p10 - one.p90)
}

/**
 * Pairs of one fault, the likest first, each taken once. Sorting is stable: of equals those that come first.
 */
export function pairFaults<Kept, Seen>(
  kept: readonly Kept[],
  seen: readonly Seen[],
  likeness: (kept: Kept, seen: Seen) => number,
): Map<Seen, Kept> {
  const pairs = kept.flatMap((one) => seen.map((other) => ({ one, other, score: likeness(one, other) })))
  const pairOf = new Map<Seen, Kept>()
  const taken = new Set<Kept>()
  for (const { one, other } of pairs.filter(({ score }) => score > 0).sort((a, b) => b.score - a.score)) {
    if (taken.has(one) || pairOf.has(other)) continue
    taken.add(one)
    pairOf.set(other, one)
  }
  return pairOf
}
