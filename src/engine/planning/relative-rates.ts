import type { NamedEstimate } from '../forecast/fleet-forecast.js'
import { normalQuantile } from '../statistics/distributions/normal.js'

/** How fast anodes of one group go beside the fleet, all else alike. */
export interface RelativeRate {
  readonly group: string
  /** Anodes in place that count in it. */
  readonly anodes: number
  /** Factor of the rate, middle and interval of 90 % [–]; `null` where the fit does not know the group. */
  readonly rate: { readonly low: number; readonly middle: number; readonly high: number } | null
}

const UPPER = normalQuantile(0.95)

/** A group of anodes by what the fit knows of them: the effect of each, on the log of the rate, with how many it counts for. */
export interface GroupEffects {
  readonly group: string
  readonly effects: readonly { readonly effect: NamedEstimate; readonly anodes: number }[]
}

/**
 * Rates of groups beside the fleet's mean, each anode counting once.
 *
 *     log rate of a group = Σ nᵢ·eᵢ / Σ nᵢ − mean over the fleet;   variance = Σ (nᵢ/N − nᵢ/N_fleet)²·seᵢ² within, (nᵢ/N_fleet)²·seᵢ² besides
 *
 * The errors of different effects are taken as independent: the fit keeps no covariances. Those of fixed effects lean on each
 * other, so that their intervals are somewhat too wide rather than too narrow.
 */
export function relativeRates(groups: readonly GroupEffects[]): RelativeRate[] {
  const all = groups.flatMap(({ effects }) => effects)
  const fleet = totalOf(all)
  const mean = fleet === 0 ? 0 : all.reduce((sum, { effect, anodes }) => sum + anodes * effect.estimate, 0) / fleet
  return groups.map(({ group, effects }) => {
    const total = totalOf(effects)
    if (total === 0) return { group, anodes: 0, rate: null }
    const own = new Set(effects)
    const estimate = effects.reduce((sum, { effect, anodes }) => sum + (anodes / total) * effect.estimate, -mean)
    const variance = all.reduce((sum, each) => {
      const weight = (own.has(each) ? each.anodes / total : 0) - each.anodes / fleet
      return sum + (weight * each.effect.se) ** 2
    }, 0)
    const at = (standard: number) => Math.exp(estimate + standard * Math.sqrt(variance))
    return { group, anodes: total, rate: { low: at(-UPPER), middle: at(0), high: at(UPPER) } }
  })
}

function totalOf(effects: GroupEffects['effects']): number {
  return effects.reduce((sum, { anodes }) => sum + anodes, 0)
}
