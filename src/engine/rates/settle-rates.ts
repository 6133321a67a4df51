import { NotConverged } from '../errors.js'
import { fitMixedModel } from '../statistics/mixed-model/fit.js'
import { type MixedModelData, type MixedModelFit, RESIDUAL } from '../statistics/mixed-model/types.js'
import { type LatentResiduals, latentResiduals, studentScale } from './latent-residuals.js'
import { NewtonSteps } from './newton-steps.js'
import type { RateDesign } from './rate-design.js'
import type { RateInterval } from './rate-intervals.js'
import { priorVariances } from './rate-model.js'
import { RESIDUAL_DEGREES_OF_FREEDOM, VARIANCE_PRIORS } from './rate-priors.js'
import { linearise, type RateRows } from './working-data.js'

/** Log rates are at their mode when no step is longer than this: an interval's own noise is near 0.2. */
const MODE_TOLERANCE = 1e-4
/**
 * All is settled when neither a log rate nor a standard deviation moves by more. Both are on the log scale of the rate: a fifth
 * of a percent, where a large fleet knows them to a few percent. A variance that creeps towards zero for ever is settled too.
 */
const SETTLED = 2e-3
/** Relative error of the variances of one linearisation: far below what settles the repetition. */
const VARIANCE_TOLERANCE = 1e-5
/**
 * While a round still moves the rates and variances by much, the next need not be worked out to the last digit: by this share of what the
 * last one moved, and no more coarsely than that.
 */
const ROUND_SHARE = 0.1
const COARSEST = { mode: 0.05, variance: 1e-3 }
/** Tail weights may creep: a loss that is an outlier or not, depending on the others. A creep this slow is let be. */
const CREEP = 0.02
const MOST_INNER_STEPS = 200
/**
 * Between two modes (a loss that is an outlier, or not) the steps shorten for a while before they lengthen again: most fleets
 * take about ten steps, a few some fifty.
 */
const MOST_OUTER_STEPS = 240
/**
 * Where nothing was lost at all, two sets of variances may call for each other in turn: from here on they go half of the way (of
 * their logarithms), then stay between the two, so that such a fleet has an answer too. With the variances held each step raises
 * one and the same likelihood: it comes to an end.
 */
const HALF_STEPS_FROM = 20
const HELD_FROM = 80

/** Most likely log rate of each interval, and what its residual variance is multiplied by. */
interface Latent {
  readonly logRates: Float64Array
  readonly scale: Float64Array
}

/** Log rates, tail weights and variances that no longer move. */
export interface SettledRates extends Latent {
  readonly fit: MixedModelFit
}

/**
 * Expectation and maximisation in turn: log rates at their mode given the variances and tail weights, tail weights given
 * the residuals, variances by REML. Each step raises the penalised likelihood, so that it settles.
 *
 * @param start from an earlier fit of the same rows
 */
export function settle(design: RateDesign, rows: RateRows, start?: SettledRates): SettledRates {
  let variances: Record<string, number> = { ...(start?.fit.variances ?? priorVariances()) }
  let logRates = start?.logRates ?? startingLogRates(rows.intervals, rows.variance)
  let scale = start?.scale ?? rows.noise
  let like = start?.fit
  let moved = Infinity
  for (let step = 0; step < MOST_OUTER_STEPS; step++) {
    const tolerance = tolerancesAfter(moved)
    const mode = modeOfLogRates(design, rows, variances, { logRates, scale }, like, tolerance.mode)
    scale = studentScale(mode.latent, variances[RESIDUAL]!, rows.noise, RESIDUAL_DEGREES_OF_FREEDOM)
    const data = dataAt(design, rows, mode.logRates, scale)
    const fit =
      step < HELD_FROM
        ? fitVariances(data, variances, mode.fit, tolerance.variance)
        : fitMixedModel(data, { heldVariances: variances, like: mode.fit })
    like = fit
    moved = Math.max(largestChange(variances, fit.variances), largestDistance(logRates, mode.logRates))
    logRates = mode.logRates
    variances = step < HALF_STEPS_FROM ? { ...fit.variances } : halfWay(variances, fit.variances)
    const limit = step === MOST_OUTER_STEPS - 1 ? CREEP : SETTLED
    if (moved < limit) return { fit, logRates, scale }
  }
  throw new NotConverged('the fit of the rates', MOST_OUTER_STEPS, moved)
}

function tolerancesAfter(moved: number): { readonly mode: number; readonly variance: number } {
  const within = (finest: number, coarsest: number) => Math.max(finest, Math.min(coarsest, ROUND_SHARE * moved))
  return {
    mode: within(MODE_TOLERANCE, COARSEST.mode),
    variance: within(VARIANCE_TOLERANCE, COARSEST.variance),
  }
}

/** A variance that has come to zero stays there. */
function halfWay(from: Readonly<Record<string, number>>, to: Readonly<Record<string, number>>): Record<string, number> {
  return Object.fromEntries(Object.entries(to).map(([term, value]) => [term, Math.sqrt(from[term]! * value)]))
}

/** A search that creeps must not cost a fleet its forecasts: the variances then stay for this round, and the next begins elsewhere. */
function fitVariances(
  data: MixedModelData,
  variances: Record<string, number>,
  like: MixedModelFit,
  tolerance: number,
): MixedModelFit {
  try {
    return fitMixedModel(data, {
      variancePriors: VARIANCE_PRIORS,
      start: variances,
      tolerance,
      like,
    })
  } catch (error) {
    if (error instanceof NotConverged) return fitMixedModel(data, { heldVariances: variances, like })
    throw error
  }
}

/** With the variances and tail weights held: the most likely log rates. */
function modeOfLogRates(
  design: RateDesign,
  rows: RateRows,
  variances: Record<string, number>,
  start: Latent,
  earlier: MixedModelFit | undefined,
  tolerance: number,
): { logRates: Float64Array; latent: LatentResiduals; fit: MixedModelFit } {
  let { logRates } = start
  let like = earlier
  const steps = new NewtonSteps(rows)
  const residualVariances = start.scale.map((scale) => scale * variances[RESIDUAL]!)
  let moved = Infinity
  for (let count = 0; count < MOST_INNER_STEPS; count++) {
    const data = dataAt(design, rows, logRates, start.scale)
    const fit: MixedModelFit = fitMixedModel(data, { heldVariances: variances, ...(like && { like }) })
    like = fit
    const latent = latentResiduals(data, fit)
    moved = largestDistance(logRates, latent.values)
    if (moved < tolerance) return { logRates, latent, fit }
    logRates = steps.next(logRates, latent.values, residualVariances)
  }
  throw new NotConverged('the log rates', MOST_INNER_STEPS, moved)
}

function dataAt(design: RateDesign, rows: RateRows, logRates: Float64Array, scale: Float64Array): MixedModelData {
  return {
    ...linearise(rows, logRates),
    fixedNames: rows.fixedNames,
    fixed: rows.fixed,
    fixedPrior: {
      mean: design.beliefs.map(({ mean }) => mean),
      precision: design.beliefs.map(({ sd }) => 1 / sd ** 2),
    },
    random: rows.random,
    residualScale: scale,
  }
}

/** The observed rate, or that of a loss as large as its error where less was lost. */
function startingLogRates(intervals: readonly RateInterval[], variance: Float64Array): Float64Array {
  return Float64Array.from(intervals, ({ consumption, context }, row) => {
    const loss = Math.max(consumption, Math.sqrt(variance[row]!))
    return Math.log(loss / context.exposure.days)
  })
}

function largestChange(before: Readonly<Record<string, number>>, after: Readonly<Record<string, number>>): number {
  return Math.max(...Object.keys(after).map((term) => Math.abs(Math.sqrt(after[term]!) - Math.sqrt(before[term]!))))
}

function largestDistance(a: Float64Array, b: Float64Array): number {
  return a.reduce((most, value, row) => Math.max(most, Math.abs(value - b[row]!)), 0)
}
