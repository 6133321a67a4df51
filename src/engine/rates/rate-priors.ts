import { designAlloy } from '../reference/anode-alloys.js'
import { DEFAULT_WASTING_THRESHOLD } from '../reference/replacement-and-inspection.js'
import type { AnodeAlloy, Water } from '../reference/vocabulary.js'
import type { VariancePrior } from '../statistics/mixed-model/types.js'
import { normalLifeDays } from './normal-life.js'

/** A Gaussian belief: mean and standard deviation, on the log scale where a rate is meant. */
export interface Belief {
  readonly mean: number
  readonly sd: number
}

/** The size that the intercept is stated for: an anode of 1 kg net. */
export const REFERENCE_NET_MASS_G = 1000

/**
 * What is believed before any weighing, weak enough that some ten intervals outweigh it. The forms are published where
 * a source is named; the figures are this project's judgement unless the comment says otherwise.
 */
export const RATE_PRIORS = {
  /**
   * log rate [g/d] of a 1 kg zinc anode in salt water. Mean: half of it goes in a year's common life of 9 to 18 months
   * (`thresholds`, normal life; common practice). Spread: a factor of 3, as for the published current densities.
   */
  intercept: { mean: Math.log((DEFAULT_WASTING_THRESHOLD * REFERENCE_NET_MASS_G) / normalLifeDays()), sd: Math.log(3) },
  /** Exponent of the rate on the net mass: 1 where size follows demand (each lasts as long), 2/3 by surface, 0 by demand alone. */
  logSize: { mean: 0.8, sd: 0.4 },
  /** Slope on the log of the published demand over the common rate: 1 if the tables were right, 0 if they told nothing. */
  logDemand: { mean: 0.5, sd: 0.35 },
  position: { mean: 0, sd: 0.3 },
  /** Spread of alloy × water about its mean below. */
  alloyInWaterSd: 0.5,
  /** Shift of the log rate by water: fresher water conducts less, so it holds the current down. Assumed. */
  water: { salt: 0, brackish: -0.3, fresh: -1 } satisfies Record<Water, number>,
  /** Zinc coats over in fresh water and may all but stop. Common practice says so; the figures are this project's. */
  zincInFresh: { shift: -0.5, sd: 1 },
  /** Change of the log rate of zinc in fresh water with each year: the film grows. Assumed. */
  filmPerYear: { mean: -0.3, sd: 0.3 },
  /** Times what the beliefs about the waters say; off by as much as they are. */
  mixing: { mean: 1, sd: 0.1 },
} as const

/**
 * Prior of the effect of an alloy in a water: at one current, mass goes in inverse proportion to the practical capacity
 * (Faraday's law; `anode-alloys`, design rows), shifted by the water.
 */
export function alloyInWaterPrior(alloy: AnodeAlloy | null, water: Water | null): Belief {
  const byCapacity =
    alloy === null ? 0 : Math.log(designAlloy('zinc').practicalAhPerKg / designAlloy(alloy).practicalAhPerKg)
  const mean = byCapacity + RATE_PRIORS.water[water ?? 'salt']
  const { zincInFresh, alloyInWaterSd } = RATE_PRIORS
  return alloy === 'zinc' && water === 'fresh'
    ? { mean: mean + zincInFresh.shift, sd: zincInFresh.sd }
    : { mean, sd: alloyInWaterSd }
}

/** Names of the random terms of the rate model. A place is a position of one boat: its anodes follow one another there. The residual is the process noise of an interval. */
export const RATE_TERMS = ['boat', 'berth', 'place', 'anode'] as const

/** Process noise of an interval's log rate, where commonly found: ±20 %. This project's judgement. */
export const RESIDUAL_SD_MODE = 0.2

/**
 * Weak priors on the standard deviations of the log rate: a gamma, which keeps an estimate off the boundary (Chung,
 * Rabe-Hesketh, Dorie, Gelman, Liu, Psychometrika 78 (2013) 685–709), with its mode where boats, berths and anodes commonly
 * differ. The modes are this project's judgement: ±30 % between boats, ±20 % between berths, ±15 % each between places of one
 * boat and between anodes of one place.
 */
export const VARIANCE_PRIORS: Readonly<Record<string, VariancePrior>> = {
  boat: gammaWithMode(0.3),
  berth: gammaWithMode(0.2),
  place: gammaWithMode(0.15),
  anode: gammaWithMode(0.15),
  residual: gammaWithMode(RESIDUAL_SD_MODE),
}

/**
 * A gamma density of shape 4 has its mode at 3/rate and its mean at four thirds of that, give or take two thirds: where a few boats leave a deviation
 * open it is believed to be larger, but not by much. Their shape 2, meant for the mode alone, has a mean of two modes.
 */
function gammaWithMode(mode: number): VariancePrior {
  return { kind: 'gamma-sd', shape: 4, rate: 3 / mode }
}

/**
 * Degrees of freedom of the residual's Student t: heavy enough that one fault does not bend its boat. Source: Lange,
 * Little, Taylor, J. Am. Stat. Assoc. 84 (1989) 881–896, who take 4 where the data cannot tell.
 */
export const RESIDUAL_DEGREES_OF_FREEDOM = 4
