import type { DepletionStrip } from '../../contract/desk.js'
import { consumedAlong, consumedOn } from '../../engine/planning/anode-prospect.js'
import { dayNumber } from '../dates/day-numbers.js'
import { monthStart } from './calendar.js'
import type { MatchingBoat } from './desk-rows.js'

const MONTHS_BEHIND = 12
const MONTHS = 24
/** Enough for a shade and a figure in percent; a fleet of thousands travels in one answer. */
const DECIMALS = 4

/** First days of the months of a strip, and of the one after it. */
export function stripMonths(asOf: string): string[] {
  return Array.from({ length: MONTHS + 1 }, (_, index) => monthStart(asOf, index - MONTHS_BEHIND))
}

interface Consumed {
  readonly anode: string
  readonly consumed: number
  readonly used: number
}

/**
 * How far the worst anode of a boat was gone at the end of each month, and will be if it is left where it is.
 *
 * @param months first days, that of the month after the last one included
 */
export function depletionStrip(
  { boat, berth, pontoon, anodes, replaced, observed, haulOuts }: MatchingBoat,
  months: readonly string[],
): DepletionStrip {
  const worst = months.slice(1).map((next): Consumed | undefined => {
    const day = dayNumber(next) - 1
    const now = anodes.flatMap(({ item, prospect }) => {
      const consumed = prospect === null ? null : consumedOn(prospect, day)
      return consumed === null ? [] : { anode: item.anode, consumed, used: consumed / item.threshold }
    })
    const before = replaced.flatMap((anode) => {
      const { history, states } = anode
      const wasThere = (history.removedOn ?? -Infinity) > day
      const consumed = observed && wasThere ? consumedAlong(observed, anode, states, day) : null
      return consumed === null ? [] : { anode: history.anode, consumed, used: consumed / history.threshold }
    })
    return [...now, ...before].toSorted((a, b) => b.used - a.used)[0]
  })
  return {
    boat,
    berth,
    pontoon,
    anode: worst.map((each) => each?.anode ?? null),
    consumed: worst.map((each) => rounded(each?.consumed)),
    used: worst.map((each) => rounded(each?.used)),
    lifts: haulOuts.filter(({ on }) => on >= months[0]! && on < months.at(-1)!),
  }
}

function rounded(value: number | undefined): number | null {
  return value === undefined ? null : Number(value.toFixed(DECIMALS))
}
