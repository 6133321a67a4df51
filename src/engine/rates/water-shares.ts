import type { AnodeAlloy, Water } from '../reference/vocabulary.js'
import type { Exposure } from './exposure-calendar.js'
import { alloyInWaterPrior } from './rate-priors.js'

/** In which waters, and at which berths, an anode was consumed over an exposure. */
export interface ConsumedWhere {
  /** Shares of the consumption by water; they add to 1. */
  readonly byWater: ReadonlyMap<Water, number>
  /** The same by berth; days somewhere unrecorded are missing from the sum. */
  readonly byBerth: readonly { readonly level: string; readonly weight: number }[]
  /** What the log of the mean rate lies above the mean of the log rates, by what is believed of the waters. */
  readonly mixing: number
}

/**
 * An interval's rate is the mean of the rates at its berths, not of their logs: a week in salt water may take as much as a summer in
 * fresh. About the believed log rates b of the alloy in each water, with s the shares of the days,
 *
 *     log Σ s·e^b′ ≈ Σ c·b′ + (log Σ s·e^b − Σ c·b),   c = s·e^b/Σ s·e^b
 *
 * so that waters and berths count by their shares c of the consumption. Water that nobody recorded counts as salt; days on
 * a cruise are taken to be in the waters of the home berths, and carry no berth's effect.
 */
export function consumedWhere(
  exposure: Exposure,
  alloy: AnodeAlloy | null,
  waterOf: (berth: string) => Water,
): ConsumedWhere {
  const believed = (water: Water) => alloyInWaterPrior(alloy, water).mean
  const berths = [...exposure.byBerth].map(([berth, days]) => {
    const water = waterOf(berth)
    return { berth, water, days, weight: days * Math.exp(believed(water)) }
  })
  const days = berths.reduce((sum, each) => sum + each.days, 0)
  const weight = berths.reduce((sum, each) => sum + each.weight, 0)
  if (!(days > 0)) return { byWater: new Map([['salt', 1]]), byBerth: [], mixing: 0 }
  const byWater = new Map<Water, number>()
  for (const each of berths) byWater.set(each.water, (byWater.get(each.water) ?? 0) + each.weight / weight)
  const meanLog = [...byWater].reduce((sum, [water, share]) => sum + share * believed(water), 0)
  const recorded = days / exposure.days
  return {
    byWater,
    byBerth: berths.map((each) => ({ level: each.berth, weight: (recorded * each.weight) / weight })),
    mixing: byWater.size === 1 ? 0 : Math.log(weight / days) - meanLog,
  }
}
