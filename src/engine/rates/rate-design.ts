import { physicsMassRate } from '../electrochemistry/protection-demand.js'
import type { AnodeAlloy, Water } from '../reference/vocabulary.js'
import type { LinearTarget } from '../statistics/mixed-model/types.js'
import type { Exposure } from './exposure-calendar.js'
import type { BerthFacts } from './fleet-history.js'
import type { ObservedAnode } from './mass-states.js'
import { alloyInWaterPrior, type Belief, RATE_PRIORS, REFERENCE_NET_MASS_G } from './rate-priors.js'
import { type ConsumedWhere, consumedWhere } from './water-shares.js'

/** What the rate of one anode over one exposure depends on. */
export interface RateContext {
  readonly boat: string
  readonly anode: ObservedAnode
  readonly exposure: Exposure
  /** Of the anode, in the middle of the exposure [years]. */
  readonly ageYears: number
  /** log of the published demand over the common rate, `null` where the demand is unknown. */
  readonly logDemand: number | null
}

/** Amplitudes of the season beyond those that weight the exposure: by how much the exposure's weights are off. */
export interface SeasonBeliefs {
  readonly cos: Belief
  readonly sin: Belief
}

export const SEASON_COLUMNS = { cos: 'season, cosine', sin: 'season, sine' } as const
/** What a mean of rates lies above the mean of their logs: 1 times what the beliefs say. */
export const MIXING_COLUMN = 'mixed waters'
/** Zinc films over in fresh water: the change of its log rate for each year since it was fitted. */
const FILM_COLUMN = 'film on zinc in fresh water, a year'

/** The columns of the model's fixed part with their priors, and how a context is written in them. */
export class RateDesign {
  readonly names: readonly string[]
  readonly beliefs: readonly Belief[]
  readonly #berthWater: ReadonlyMap<string, Water | null>
  readonly #index: ReadonlyMap<string, number>

  /**
   * @param season what is still believed of the season's amplitudes beyond those that weight the exposure
   * @param contexts every context that will be fitted or predicted: they decide which columns there are
   */
  constructor(berths: readonly BerthFacts[], season: SeasonBeliefs, contexts: readonly RateContext[]) {
    this.#berthWater = new Map(berths.map(({ berth, water }) => [berth, water]))
    const columns = new Map<string, Belief>([
      ['intercept', RATE_PRIORS.intercept],
      ['log size', RATE_PRIORS.logSize],
      ['log demand', RATE_PRIORS.logDemand],
      [SEASON_COLUMNS.cos, season.cos],
      [SEASON_COLUMNS.sin, season.sin],
      [MIXING_COLUMN, RATE_PRIORS.mixing],
      [FILM_COLUMN, RATE_PRIORS.filmPerYear],
    ])
    const extra = new Map<string, Belief>()
    for (const context of contexts) {
      const { alloy, position } = context.anode.history
      extra.set(positionColumn(position), RATE_PRIORS.position)
      for (const water of this.#consumedWhere(context).byWater.keys())
        extra.set(alloyColumn(alloy, water), alloyInWaterPrior(alloy, water))
    }
    // A boat may be asked about at any berth: each alloy has a column in each water there is.
    const waters = new Set(berths.map(({ water }) => water ?? 'salt'))
    for (const alloy of new Set(contexts.map(({ anode }) => anode.history.alloy)))
      for (const water of waters) extra.set(alloyColumn(alloy, water), alloyInWaterPrior(alloy, water))
    for (const name of [...extra.keys()].sort()) columns.set(name, extra.get(name)!)
    this.names = [...columns.keys()]
    this.beliefs = [...columns.values()]
    this.#index = new Map(this.names.map((name, index) => [name, index]))
  }

  /** Whether there are columns for a context. */
  knows(context: RateContext): boolean {
    const { anode } = context
    const waters = [...this.#consumedWhere(context).byWater.keys()]
    const names = [
      positionColumn(anode.history.position),
      ...waters.map((water) => alloyColumn(anode.history.alloy, water)),
    ]
    return names.every((name) => this.#index.has(name))
  }

  /** The linear predictor of log rate [g/d] in a context. */
  target(context: RateContext): LinearTarget {
    const { anode, exposure } = context
    const { alloy, position } = anode.history
    const fixed = new Array<number>(this.names.length).fill(0)
    const add = (name: string, value: number) => {
      const at = this.#index.get(name)
      if (at === undefined) throw new Error(`the design has no column "${name}"`)
      fixed[at] = (fixed[at] ?? 0) + value
    }
    add('intercept', 1)
    add('log size', Math.log(anode.fitted.netMassG / REFERENCE_NET_MASS_G))
    add('log demand', context.logDemand ?? 0)
    add(SEASON_COLUMNS.cos, exposure.season.cos)
    add(SEASON_COLUMNS.sin, exposure.season.sin)
    add(positionColumn(position), 1)
    const { byWater, byBerth, mixing } = this.#consumedWhere(context)
    add(MIXING_COLUMN, mixing)
    if (alloy === 'zinc') add(FILM_COLUMN, (byWater.get('fresh') ?? 0) * context.ageYears)
    for (const [water, share] of byWater) add(alloyColumn(alloy, water), share)
    return {
      fixed,
      random: {
        boat: [{ level: context.boat, weight: 1 }],
        berth: byBerth,
        place: [{ level: placeOf(context.boat, position), weight: 1 }],
        anode: [{ level: anode.history.key, weight: 1 }],
      },
    }
  }

  #consumedWhere({ anode, exposure }: RateContext): ConsumedWhere {
    return consumedWhere(exposure, anode.history.alloy, (berth) => this.#berthWater.get(berth) ?? 'salt')
  }
}

/** No name of a boat or a position holds a line break. */
const placeOf = (boat: string, position: string) => `${boat}\n${position}`
export const positionColumn = (position: string) => `position ${position}`
export const alloyColumn = (alloy: AnodeAlloy | null, water: Water) => `${alloy ?? 'unknown alloy'} in ${water} water`

/**
 * log of what the published current densities ask of one anode over what an anode of its size commonly loses. The boat's
 * current is shared among its bonded anodes by surface, in proportion to net mass to the power 2/3.
 *
 * @param demandCurrentA current of the boat's bonded metals [A]
 * @param shareOfSurface this anode's share of the bonded anodes' surface, in (0, 1]
 */
export function logDemandRatio(
  demandCurrentA: number,
  shareOfSurface: number,
  netMassG: number,
  alloy: AnodeAlloy | null,
): number {
  const demanded = physicsMassRate(demandCurrentA, alloy ?? 'zinc') * shareOfSurface
  const size = RATE_PRIORS.logSize.mean * Math.log(netMassG / REFERENCE_NET_MASS_G)
  const common = RATE_PRIORS.intercept.mean + size + alloyInWaterPrior(alloy, 'salt').mean
  return Math.log(demanded) - common
}
