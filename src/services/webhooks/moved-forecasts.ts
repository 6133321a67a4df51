import type { ForecastItem } from '../../contract/forecasts.js'

type Dates = Pick<ForecastItem, 'recommendedOn' | 'replace'>

/** An anode whose date is no longer where it was said to be. */
export interface MovedForecast {
  readonly anode: string
  readonly position: string
  readonly before: Dates
  readonly after: Dates
}

export interface BoatWithMoved {
  readonly boat: string
  readonly anodes: readonly MovedForecast[]
}

/** Beyond the horizon of forecasts, 30 years: later than every date. */
const NEVER = '9999-12-31'

/**
 * Whether the middle of a forecast has left the interval (8 of 10) of the one before: what moves within it was allowed for.
 *
 * @example hasMoved({ p10: '2031-04-01', p50: '2031-05-01', p90: '2031-07-01' }, { p50: '2031-03-20' }) // true
 */
export function hasMoved(
  before: Pick<ForecastItem['replace'], 'p10' | 'p90'>,
  after: Pick<ForecastItem['replace'], 'p50'>,
): boolean {
  const middle = after.p50 ?? NEVER
  return middle < (before.p10 ?? NEVER) || middle > (before.p90 ?? NEVER)
}

/** By boat, what has moved; an anode that had no forecast before has not. */
export function movedForecasts(
  before: ReadonlyMap<string, ForecastItem>,
  issued: readonly { readonly anodeId: string; readonly item: ForecastItem }[],
): BoatWithMoved[] {
  const boats = new Map<string, MovedForecast[]>()
  for (const { anodeId, item } of issued) {
    const old = before.get(anodeId)
    if (old === undefined || !hasMoved(old.replace, item.replace)) continue
    const moved = { anode: item.anode, position: item.position, before: datesOf(old), after: datesOf(item) }
    boats.set(item.boat, [...(boats.get(item.boat) ?? []), moved])
  }
  return [...boats].map(([boat, anodes]) => ({ boat, anodes }))
}

function datesOf({ recommendedOn, replace }: ForecastItem): Dates {
  return { recommendedOn, replace }
}
