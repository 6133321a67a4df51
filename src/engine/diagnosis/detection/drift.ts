import { type CumulativeSumDesign, cumulativeSums } from '../../statistics/cumulative-sum.js'
import { limitForRunLength } from '../../statistics/cumulative-sum-run-length.js'
import { SAME_LIFT_DAYS } from '../same-lift.js'
import type { BoatSearch } from './boat-search.js'
import type { PanelView } from './panel.js'
import type { Stretch } from './scan.js'

/** Wear that goes on aside of what was usual, found by summing small surprises. */
export interface Drift {
  readonly direction: 'fast' | 'slow'
  /** Day numbers: from the last lift at which nothing was off, to the one that gave the signal. */
  readonly from: number
  readonly to: number
}

/** Half the shift that is to be found fastest: two standard deviations, a factor of about 1.5 with the noise commonly found. */
const ALLOWANCE = 1
/** Years in the water of all anodes together, to one false signal of the places, and to one of the boats. Convention. */
export const ANODE_YEARS_TO_FALSE_SIGNAL = 600
const DAYS_PER_YEAR = 365.25

/**
 * The design of the sums for a family of searches: with two sums each, and as many lifts a year as the fleet has, one false signal
 * comes about in `ANODE_YEARS_TO_FALSE_SIGNAL`. The in-control average run length of one sum, in lifts, is thus
 *
 *     2 × lifts/anode-years × anode-years to a false signal
 */
export function driftDesign(searches: readonly Pick<BoatSearch, 'view' | 'panel'>[]): CumulativeSumDesign | null {
  const lifts = searches.reduce((sum, { view }) => sum + (view === null ? 0 : liftsOf(view).length), 0)
  const days = searches.reduce(
    (sum, { panel }) => sum + panel.losses.reduce((own, { from, to }) => own + to - from, 0),
    0,
  )
  if (!(lifts > 0 && days > 0)) return null
  const runLength = (2 * lifts * ANODE_YEARS_TO_FALSE_SIGNAL * DAYS_PER_YEAR) / days
  return { allowance: ALLOWANCE, limit: limitForRunLength(Math.max(SHORTEST_RUN_LENGTH, runLength), ALLOWANCE) }
}

/** Of fewer lifts on average no limit is worth its name. Convention. */
const SHORTEST_RUN_LENGTH = 50

/**
 * Signals of the two sums over the lifts of a search. Each lift's surprise is that of its losses given the losses before it alone,
 * so that the surprises are independent while nothing has changed.
 *
 * @param scale what ordinary scores spread by
 */
export function driftsOf(view: PanelView, design: CumulativeSumDesign, scale: number): Drift[] {
  const lifts = liftsOf(view)
  const surprises = view.innovations(lifts.map(({ members }) => members)).map((value) => value / scale)
  const { up, down } = cumulativeSums(surprises, design)
  return [up, down].flatMap(({ signalAt, changeAfter }, side): Drift[] => {
    if (signalAt === null || changeAfter === null) return []
    const direction = side === 0 ? 'fast' : 'slow'
    return [{ direction, from: lifts[changeAfter]!.from, to: lifts[signalAt]!.to }]
  })
}

/** Whether a stretch tells of a drift: the same way, at the same time. */
export function tellsOf(drift: Drift, stretch: Pick<Stretch, 'from' | 'to'>, direction: 'fast' | 'slow'): boolean {
  return drift.direction === direction && drift.from < stretch.to && stretch.from < drift.to
}

interface Lift {
  /** Places among the losses kept, which are in order of time. */
  readonly members: readonly number[]
  readonly from: number
  readonly to: number
}

function liftsOf({ kept, panel }: PanelView): Lift[] {
  const lifts: { members: number[]; from: number; to: number }[] = []
  kept.forEach((i, at) => {
    const { from, to } = panel.losses[i]!
    const last = lifts.at(-1)
    if (last === undefined || to - last.to > SAME_LIFT_DAYS) lifts.push({ members: [at], from, to })
    else {
      last.members.push(at)
      last.from = Math.min(last.from, from)
    }
  })
  return lifts
}
