import { CONSTANT_CURRENT_EXPONENT } from '../depletion/consumption-coordinate.js'
import { WEIGHING_ERROR, type WeighingErrors } from '../depletion/weighing-error.js'
import { type Season, seasonPriorAt } from './season.js'

/** A share of the gross mass when new, with its standard deviation. */
export interface CoreShare {
  readonly share: number
  readonly sd: number
}

/**
 * How masses are read: the season that weights exposure, the exponent of the depletion law by shape, the errors of the ways
 * of weighing, and the usual core of a shape. Plain values, so that they can be kept beside the forecasts they led to.
 */
export interface ObservationModel {
  readonly season: Season
  /** By the shape's name in lower case; a shape that is not there has constant current. */
  readonly exponents: Readonly<Record<string, number>>
  readonly errors: WeighingErrors
  /** By the shape's name in lower case; a shape that is not there has `UNKNOWN_CORE`. */
  readonly cores: Readonly<Record<string, CoreShare>>
}

/** Core of a shape that nobody weighed: steel strap or insert and fasteners, from a bolted plate to a cast-in bar. Assumed. */
export const UNKNOWN_CORE: CoreShare = { share: 0.08, sd: 0.05 }

/** What is taken before anything was learned. */
export function defaultObservationModel(latitude: number | null): ObservationModel {
  return { season: seasonPriorAt(latitude).season, exponents: {}, errors: WEIGHING_ERROR, cores: {} }
}

/** Shapes are told apart by their name, as people write it. */
export function shapeClass(shape: string | null): string {
  return shape?.trim().toLowerCase() || 'unknown shape'
}

export function exponentOf(model: ObservationModel, shape: string | null): number {
  return model.exponents[shapeClass(shape)] ?? CONSTANT_CURRENT_EXPONENT
}

export function coreOf(model: ObservationModel, shape: string | null): CoreShare {
  return model.cores[shapeClass(shape)] ?? UNKNOWN_CORE
}
