import { NotConverged, OutOfRange } from '../../errors.js'
import { multiplyVector } from '../linear-algebra/dense.js'
import type { BlockedModel } from './blocks.js'
import { descentStep, LONGEST_LOG_STEP, moved, relativeStep, stepTaken, wholeStep } from './descent.js'
import { bestScaled, type Evaluation, evaluate, isScaleFree } from './evaluate.js'
import { type Point, penalise, type SearchComponent } from './objective.js'
import { SecantCorrection } from './secant.js'
import type { ModelSolver } from './solve-model.js'

const MOST_ITERATIONS = 200
const MOST_HALVINGS = 60
/** Where steps stop shrinking between this and the tolerance, they are rounding error. */
const ROUNDING_STEP = 1e-6
/**
 * A variance makes for zero where the slope of the criterion is this many times its value times the information: Newton's
 * step for it alone would end beyond zero.
 */
const BOUND_FOR_ZERO = 1.5
/** Steps that hardly shrink, or grow, are taken to leave this many times their size: 0.9/(1 − 0.9) = 9. */
const SLOWEST_PACE = 0.9
/**
 * Where only steps too short to move anything lower the criterion, its rounding error hides what is left: with known errors of
 * very unlike size that may come before the gradient's last digits. The place is the minimum as far as the criterion tells.
 */
const STALLED_STEP = 1e-3
const STALLED_MOVE = 1e-9
/** Rounding error of the criterion, a row. */
const CRITERION_ROUNDING = 1e-13
/** Residual variance, as a share of the variance of y, below which the effects fit y exactly. */
const EXACT_FIT_SHARE = 1e-13

/** Where the search ended. */
export interface Optimum {
  readonly variances: readonly number[]
  /** −2·(log L + log prior), to rounding error. */
  readonly value: number
  readonly iterations: number
}

/** What is searched. */
export interface Search {
  readonly model: BlockedModel
  readonly solver: ModelSolver
  readonly components: readonly SearchComponent[]
  /** Variance of y about the fixed effects, errors included. */
  readonly spread: number
  /** Relative error of the variances at which the search ends. */
  readonly tolerance: number
}

/** The second start: the residual takes nearly all, as a share of the first start. */
const SECOND_START = { residual: 3, others: 0.03 }

/**
 * Minimises the criterion from `start`, and once more from a start where nearly all is residual if a variance ended
 * at zero: with known errors the criterion may have a second minimum then. The lower one counts.
 *
 * @param known the evaluation at `start`, where there is one
 * @throws NotConverged, OutOfRange as `optimise`
 */
export function optimiseTwice(search: Search, start: readonly number[], known?: Evaluation): Optimum {
  const { components } = search
  const first = optimise(search, start, known)
  if (!components.some(({ scale }, g) => scale === 'variance' && first.variances[g] === 0)) return first
  const residual = components.length - 1
  const second = optimise(
    search,
    start.map((value, g) => {
      if (components[g]!.scale === 'held') return value
      return value * (g === residual ? SECOND_START.residual : SECOND_START.others)
    }),
  )
  const iterations = first.iterations + second.iterations
  return { ...(second.value < first.value ? second : first), iterations }
}

/**
 * Minimises −2·(log L + log prior) over the variances, each ≥ 0, by Newton steps with the average information and a
 * secant correction, and step halving. Variances are searched by their logarithms; one without a prior that makes for
 * zero is searched as it is from then on, and stays on the bound while the criterion rises from it.
 *
 * @param start variances by component
 * @param known the evaluation at `start`, where there is one
 * @throws NotConverged after 200 iterations
 * @throws OutOfRange where the criterion has no minimum, since the effects fit y exactly
 */
export function optimise(search: Search, start: readonly number[], known?: Evaluation): Optimum {
  const { model, tolerance } = search
  const correction = new SecantCorrection(search.components.length)
  const pace = new Pace(tolerance)
  let components = byLogarithm(search.components, start)
  const first = known ? placeOf(search, start, known) : placeAt(search, start)
  if (!first) throw new OutOfRange('covariance of y at the starting variances', 'singular', 'positive definite')
  let place = first
  for (let iteration = 1; iteration <= MOST_ITERATIONS; iteration++) {
    const { variances, at } = place
    const kept = withoutBoundForZero(search.components, components, place)
    if (kept !== components) correction.forget()
    components = kept
    const point = penalise(at, components, variances)
    const step = descentStep(components, variances, point, correction.matrix)
    const size = relativeStep(components, variances, step)
    if (pace.isLast(size)) {
      return { variances: moved(components, variances, step, 1), value: point.value, iterations: iteration }
    }
    const next = descend({ ...search, components }, variances, step, point)
    if (!next || isStalled(variances, next.variances)) {
      if (size < (next ? STALLED_STEP : ROUNDING_STEP)) return { variances, value: point.value, iterations: iteration }
      throw new NotConverged('REML', iteration, size)
    }
    learn(
      correction,
      stepTaken(components, variances, next.variances),
      point,
      penalise(next.at, components, next.variances),
    )
    place = next
    refuseExactFit(model, place, search.spread)
  }
  throw new NotConverged('REML', MOST_ITERATIONS, pace.last)
}

/**
 * All variances by their logarithms, on whose scale the average information is right to the third order for a variance on
 * its own; those without a prior for as long as they do not make for zero.
 */
function byLogarithm(components: readonly SearchComponent[], start: readonly number[]): readonly SearchComponent[] {
  return components.map((own, g) => (own.scale === 'variance' && start[g]! > 0 ? { ...own, scale: 'log' } : own))
}

/** Takes variances without a prior that make for zero from their logarithms: from now on they are searched as they are. */
function withoutBoundForZero(
  wanted: readonly SearchComponent[],
  components: readonly SearchComponent[],
  { variances, at }: Place,
): readonly SearchComponent[] {
  const count = components.length
  const step = wholeStep(components, variances, penalise(at, components, variances), new Float64Array(count * count))
  const isBound = (g: number) =>
    components[g]!.scale !== wanted[g]!.scale &&
    (step[g]! < -LONGEST_LOG_STEP || at.gradient[g]! > BOUND_FOR_ZERO * variances[g]! * at.average[g * count + g]!)
  if (!components.some((_, g) => isBound(g))) return components
  return components.map((own, g) => (isBound(g) ? wanted[g]! : own))
}

/** Where a search stands. */
interface Place {
  readonly variances: readonly number[]
  readonly at: Evaluation
}

function placeAt(search: Search, variances: readonly number[]): Place | undefined {
  const at = evaluate(search.model, search.solver, variances)
  return at && placeOf(search, variances, at)
}

/** The place of an evaluation, moved to the best scale where that is free. */
function placeOf({ model, components }: Search, variances: readonly number[], at: Evaluation): Place {
  if (!isScaleFree(model, components)) return { variances, at }
  const { factor, scaled } = bestScaled(model, at)
  return { variances: variances.map((variance) => variance * factor), at: scaled }
}

function isStalled(before: readonly number[], after: readonly number[]): boolean {
  return before.every((variance, g) => Math.abs(after[g]! - variance) <= STALLED_MOVE * variance)
}

/** How fast the steps shrink, and so what the next one would be. */
class Pace {
  readonly #tolerance: number
  #ratio = 1
  last = Number.POSITIVE_INFINITY

  constructor(tolerance: number) {
    this.#tolerance = tolerance
  }

  /** Whether nothing that counts is left after a step of this size. */
  isLast(size: number): boolean {
    const ratio = size / this.last
    // The slower of the last two paces, so that one step that happens to be short does not end the search; steps that
    // shrink by it on and on add up to size·pace/(1 − pace).
    const pace = Math.min(SLOWEST_PACE, Math.max(ratio, this.#ratio))
    const left = (size * pace) / (1 - pace)
    const rounding = size < ROUNDING_STEP && ratio > 0.5
    this.#ratio = Number.isFinite(this.last) ? ratio : 1
    this.last = size
    return left < this.#tolerance || rounding
  }
}

function learn(correction: SecantCorrection, step: Float64Array, before: Point, after: Point): void {
  const change = after.gradient.map((value, g) => (step[g] === 0 ? 0 : value - before.gradient[g]!))
  const modelled = multiplyVector(after.average, step, step.length).map((value, g) => (step[g] === 0 ? 0 : value))
  correction.learn(step, change, modelled)
}

function descend(search: Search, variances: readonly number[], step: Float64Array, point: Point): Place | undefined {
  const { model, components } = search
  const noise = CRITERION_ROUNDING * model.rowCount
  const residual = components.length - 1
  // Without known errors all shares beyond this are singular alike; near an exact fit they would be too many to halve.
  const towardsNothing = hasErrorFreeRow(model) && step[residual]! < 0
  const withinBounds = towardsNothing ? -variances[residual]! / step[residual]! : 1
  let share = 1
  for (let halving = 0; halving < MOST_HALVINGS; halving++) {
    const next = placeAt(search, moved(components, variances, step, share))
    if (next && penalise(next.at, components, next.variances).value <= point.value + noise) return next
    share = Math.min(share, withinBounds) / 2
  }
  return undefined
}

function refuseExactFit(model: BlockedModel, { variances, at }: Place, spread: number): void {
  const residual = model.componentNames.length - 1
  const value = variances[residual]!
  if (!hasErrorFreeRow(model)) return
  if (value > 0 && value < EXACT_FIT_SHARE * spread && at.gradient[residual]! > 0) {
    throw new OutOfRange('residual variance', value, 'above 0: the effects leave no more of y than rounding error')
  }
}

/** Where no row is, a residual of zero is as good as any other. */
function hasErrorFreeRow({ values }: BlockedModel): boolean {
  return values.errorVariance.includes(0)
}
