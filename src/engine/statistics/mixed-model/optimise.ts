import { NotConverged, OutOfRange } from '../../errors.js'
import { solveSymmetric } from '../linear-algebra/cholesky.js'
import type { BlockedModel } from './blocks.js'
import { evaluate } from './evaluate.js'
import { type Objective, type Point, penalise, type SearchComponent } from './objective.js'

const MOST_ITERATIONS = 200
const MOST_HALVINGS = 60
/** Relative step of the variances at which the search ends. */
const RELATIVE_STEP = 1e-9
/** Where steps stop shrinking between this and `RELATIVE_STEP`, they are rounding error. */
const ROUNDING_STEP = 1e-6
/** Rounding error of the criterion, a row. */
const CRITERION_ROUNDING = 1e-13
/** Longest step in a log variance. */
const LONGEST_LOG_STEP = 3
/** Residual variance, as a share of the variance of y, below which the effects fit y exactly. */
const EXACT_FIT_SHARE = 1e-13

/** Where the search ended. */
export interface Optimum {
  readonly variances: readonly number[]
  /** −2·(log L + log prior), to rounding error. */
  readonly value: number
  readonly iterations: number
}

/** The second start: the residual takes nearly all, as a share of the first start. */
const SECOND_START = { residual: 3, others: 0.03 }

/**
 * Minimises the criterion from `start`, and once more from a start where nearly all is residual if a variance ended
 * at zero: with known errors the criterion may have a second minimum then. The lower one counts.
 *
 * @throws NotConverged, OutOfRange as `optimise`
 */
export function optimiseTwice(
  model: BlockedModel,
  components: readonly SearchComponent[],
  start: readonly number[],
  spread: number,
): Optimum {
  const first = optimise(model, components, start, spread)
  if (!components.some(({ scale }, g) => scale === 'variance' && first.variances[g] === 0)) return first
  const residual = components.length - 1
  const second = optimise(
    model,
    components,
    start.map((value, g) => {
      if (components[g]!.scale === 'held') return value
      return value * (g === residual ? SECOND_START.residual : SECOND_START.others)
    }),
    spread,
  )
  const iterations = first.iterations + second.iterations
  return { ...(second.value < first.value ? second : first), iterations }
}

/**
 * Minimises −2·(log L + log prior) over the variances, each ≥ 0, by Newton's method with the exact Hessian where it
 * is positive definite and the expected one elsewhere (Fisher scoring), with step halving. A variance on the bound
 * stays there while the criterion rises from it. A variance with a gamma prior is searched by its logarithm, since
 * the prior keeps it off the bound.
 *
 * @param start variances by component
 * @param spread variance of y about the fixed effects, errors included
 * @throws NotConverged after 200 iterations
 * @throws OutOfRange where the criterion has no minimum, since the effects fit y exactly
 */
export function optimise(
  model: BlockedModel,
  components: readonly SearchComponent[],
  start: readonly number[],
  spread: number,
): Optimum {
  const objective: Objective = (variances) => {
    const at = evaluate(model, variances)
    return at && penalise(at, components, variances)
  }
  const noise = CRITERION_ROUNDING * model.rowCount
  let variances = [...start]
  let point = pointAt(objective, variances)
  let lastStep = Number.POSITIVE_INFINITY
  for (let iteration = 1; iteration <= MOST_ITERATIONS; iteration++) {
    const step = descentStep(components, variances, point)
    const size = relativeStep(components, variances, step)
    if (size < RELATIVE_STEP || (size < ROUNDING_STEP && size > lastStep / 2)) {
      return { variances: moved(components, variances, step, 1), value: point.value, iterations: iteration }
    }
    lastStep = size
    const next = search(objective, components, variances, step, point, noise)
    if (!next) {
      if (size < ROUNDING_STEP) return { variances, value: point.value, iterations: iteration }
      throw new NotConverged('REML', iteration, size)
    }
    variances = next.variances
    point = next.point
    refuseExactFit(model, variances, point, spread)
  }
  throw new NotConverged('REML', MOST_ITERATIONS, lastStep)
}

function pointAt(objective: Objective, variances: readonly number[]): Point {
  const point = objective(variances)
  if (!point) throw new OutOfRange('covariance of y at the starting variances', 'singular', 'positive definite')
  return point
}

/** Newton or scoring step; zero for held components and for those that rest on the bound. */
function descentStep(components: readonly SearchComponent[], variances: readonly number[], point: Point): Float64Array {
  const count = components.length
  const step = new Float64Array(count)
  let free = components.flatMap(({ scale }, g) => {
    const rests = scale === 'variance' && variances[g] === 0 && point.gradient[g]! >= 0
    return scale === 'held' || rests ? [] : [g]
  })
  for (;;) {
    const solution = solveFree(point, free, count)
    const leaving = free.filter((g, k) => components[g]!.scale === 'variance' && variances[g] === 0 && solution[k]! < 0)
    if (leaving.length === 0) {
      free.forEach((g, k) => {
        step[g] = solution[k]!
      })
      break
    }
    free = free.filter((g) => !leaving.includes(g))
  }
  const longest = Math.max(0, ...components.map(({ scale }, g) => (scale === 'log' ? Math.abs(step[g]!) : 0)))
  return longest > LONGEST_LOG_STEP ? step.map((value) => (value * LONGEST_LOG_STEP) / longest) : step
}

function solveFree(point: Point, free: readonly number[], count: number): Float64Array {
  const target = Float64Array.from(free, (g) => -point.gradient[g]!)
  const part = (matrix: Float64Array, ridge: number): Float64Array =>
    Float64Array.from({ length: free.length ** 2 }, (_, at) => {
      const g = free[Math.floor(at / free.length)]!
      const h = free[at % free.length]!
      return matrix[g * count + h]! * (g === h ? 1 + ridge : 1)
    })
  const newton = solveSymmetric(part(point.observed, 0), target)
  if (newton) return newton
  for (let ridge = 1e-8; ridge < 1e8; ridge *= 100) {
    const scoring = solveSymmetric(part(point.expected, ridge), target)
    if (scoring) return scoring
  }
  throw new OutOfRange('information on the variances', 0, 'above 0: neither rows nor priors bound them')
}

function moved(
  components: readonly SearchComponent[],
  variances: readonly number[],
  step: Float64Array,
  share: number,
): number[] {
  return components.map(({ scale }, g) => {
    const from = variances[g]!
    if (scale === 'held') return from
    if (scale === 'log') return from * Math.exp(share * step[g]!)
    return Math.max(0, from + share * step[g]!)
  })
}

function relativeStep(
  components: readonly SearchComponent[],
  variances: readonly number[],
  step: Float64Array,
): number {
  const sizes = components.map(({ scale }, g) => {
    if (scale === 'log' || step[g] === 0) return Math.abs(step[g]!)
    return Math.abs(step[g]!) / variances[g]!
  })
  return Math.max(0, ...sizes)
}

function search(
  objective: Objective,
  components: readonly SearchComponent[],
  variances: readonly number[],
  step: Float64Array,
  point: Point,
  noise: number,
): { variances: number[]; point: Point } | undefined {
  let share = 1
  for (let halving = 0; halving < MOST_HALVINGS; halving++) {
    const candidate = moved(components, variances, step, share)
    const next = objective(candidate)
    if (next && next.value <= point.value + noise) return { variances: candidate, point: next }
    share /= 2
  }
  return undefined
}

function refuseExactFit(model: BlockedModel, variances: readonly number[], point: Point, spread: number): void {
  const residual = model.componentNames.length - 1
  const value = variances[residual]!
  if (value > 0 && value < EXACT_FIT_SHARE * spread && point.gradient[residual]! > 0) {
    throw new OutOfRange('residual variance', value, 'above 0: the effects leave no more of y than rounding error')
  }
}
