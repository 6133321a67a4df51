import { consumptionCoordinate } from '../depletion/consumption-coordinate.js'
import type { KeptOutlook } from '../forecast/fleet-forecast.js'
import { lossUntil } from '../forecast/loss-until.js'
import { grossMassAt, type MassState, type ObservedAnode } from '../rates/mass-states.js'
import type { ObservedBoat } from '../rates/rate-intervals.js'
import { normalPlusLognormalCdf } from '../statistics/distributions/normal-plus-lognormal.js'
import { crps } from './crps.js'

/** How one forecast of a mass did when the anode was weighed. */
export interface MassScore {
  /** Probability, under the forecast, of a loss no larger than the one found: uniform for honest forecasts. */
  readonly transform: number
  /** Of the net mass [g]. */
  readonly crpsG: number
  /** Mass found minus the median forecast [g]: above 0 where less was lost than forecast. */
  readonly errorG: number
}

/**
 * Scores a forecast against one later state of its anode, error of that weighing included. The loss forecast is a normal plus a
 * multiple of a lognormal, as in `crossingProbability`; where the boat lay between is taken as it came to pass, so that the rate is
 * judged and not the plan.
 *
 * @param anode read with the season, exponents and errors that the forecast had
 * @returns `null` for a state not after the last one that the forecast knew
 */
export function scoreMass(
  outlook: KeptOutlook,
  boat: Pick<ObservedBoat, 'calendar'>,
  anode: ObservedAnode,
  state: MassState,
): MassScore | null {
  const last = outlook.path.at(-1)
  if (last === undefined || state.on <= last.on) return null
  const loss = lossUntil({ ...outlook, boat, last }, state.on, state.variance)
  const found = netMassOf(anode, state.consumption)
  const massAtMost = (netG: number) => 1 - normalPlusLognormalCdf(loss, consumptionOf(anode, netG))
  const newG = anode.fitted.netMassG
  // A net mass lies between nothing and a little above new; weighing error is small beside that.
  const reach = newG + FAR_SDS * loss.sd
  return {
    transform: normalPlusLognormalCdf(loss, state.consumption),
    crpsG: crps(massAtMost, found, 0, reach),
    errorG: found - medianOf(massAtMost, reach),
  }
}

const FAR_SDS = 4
const MEDIAN_HALVINGS = 40

function medianOf(massAtMost: (netG: number) => number, upper: number): number {
  let low = 0
  let high = upper
  for (let halving = 0; halving < MEDIAN_HALVINGS; halving++) {
    const middle = (low + high) / 2
    if (massAtMost(middle) < 0.5) low = middle
    else high = middle
  }
  return high
}

function netMassOf(anode: ObservedAnode, consumption: number): number {
  return grossMassAt(anode, consumption) - anode.fitted.coreMassG
}

function consumptionOf({ fitted, exponent }: ObservedAnode, netG: number): number {
  return consumptionCoordinate(fitted.netMassG, fitted.netMassG, netG, exponent)
}
