import { predictLogRate, priorLogRate, type RateModel } from '../rates/rate-model.js'
import type { LinearTarget } from '../statistics/mixed-model/types.js'

/** On what a forecast's rate rests, in shares that add to 1. */
export interface Basis {
  readonly physics: number
  readonly fleet: number
  readonly boat: number
  readonly anode: number
}

/** A level that no data has: whatever is predicted for it rests on the rest. */
const UNSEEN = '\u0000unseen'

/**
 * Shares of the precision of the log rate: what the priors give alone, what the fleet adds for a boat nobody has seen,
 * what this boat's other anodes add, what the anode's own weighings add.
 *
 *     1/V_all = 1/V_prior + (1/V_fleet − 1/V_prior) + (1/V_boat − 1/V_fleet) + (1/V_all − 1/V_boat)
 *
 * Information never takes precision away, so no share is negative.
 */
export function basisOf(model: RateModel, target: LinearTarget): Basis {
  const unseen = (...terms: string[]): LinearTarget => ({
    fixed: target.fixed,
    random: Object.fromEntries(
      Object.entries(target.random).map(([term, members]) => [
        term,
        terms.includes(term) ? members.map(({ weight }) => ({ level: UNSEEN, weight })) : members,
      ]),
    ),
  })
  const prior = 1 / priorLogRate(model, target).variance
  const fleet = Math.max(prior, 1 / predictLogRate(model, unseen('boat', 'anode')).variance)
  const boat = Math.max(fleet, 1 / predictLogRate(model, unseen('anode')).variance)
  const all = Math.max(boat, 1 / predictLogRate(model, target).variance)
  return {
    physics: prior / all,
    fleet: (fleet - prior) / all,
    boat: (boat - fleet) / all,
    anode: (all - boat) / all,
  }
}
