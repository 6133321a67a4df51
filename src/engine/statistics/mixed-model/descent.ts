import { OutOfRange } from '../../errors.js'
import { solveSymmetric } from '../linear-algebra/cholesky.js'
import type { Point, SearchComponent } from './objective.js'

/** Longest step in a log variance. */
export const LONGEST_LOG_STEP = 3

/**
 * Step to the minimum of a quadratic model, shortened where a logarithm would move too far; zero for held components and for
 * those that rest on the bound.
 *
 * @param correction added to the average information where the sum is positive definite
 * @throws OutOfRange where neither rows nor priors say anything on a variance
 */
export function descentStep(
  components: readonly SearchComponent[],
  variances: readonly number[],
  point: Point,
  correction: Float64Array,
): Float64Array {
  const step = wholeStep(components, variances, point, correction)
  const longest = Math.max(0, ...components.map(({ scale }, g) => (scale === 'log' ? Math.abs(step[g]!) : 0)))
  return longest > LONGEST_LOG_STEP ? step.map((value) => (value * LONGEST_LOG_STEP) / longest) : step
}

/** The same, however long. */
export function wholeStep(
  components: readonly SearchComponent[],
  variances: readonly number[],
  point: Point,
  correction: Float64Array,
): Float64Array {
  const step = new Float64Array(components.length)
  let free = components.flatMap(({ scale }, g) => {
    const rests = scale === 'variance' && variances[g] === 0 && point.gradient[g]! >= 0
    return scale === 'held' || rests ? [] : [g]
  })
  for (;;) {
    const solution = solveFree(point, free, correction)
    const leaving = free.filter((g, k) => components[g]!.scale === 'variance' && variances[g] === 0 && solution[k]! < 0)
    if (leaving.length === 0) {
      free.forEach((g, k) => {
        step[g] = solution[k]!
      })
      return step
    }
    free = free.filter((g) => !leaving.includes(g))
  }
}

/** The first of the models that is positive definite, from the sharpest to the surest. */
function solveFree(point: Point, free: readonly number[], correction: Float64Array): Float64Array {
  const count = point.gradient.length
  const target = Float64Array.from(free, (g) => -point.gradient[g]!)
  const part = (entry: (at: number, diagonal: boolean) => number): Float64Array =>
    Float64Array.from({ length: free.length ** 2 }, (_, at) => {
      const g = free[Math.floor(at / free.length)]!
      const h = free[at % free.length]!
      return entry(g * count + h, g === h)
    })
  const { average, information, leastExpected } = point
  const solution =
    solveSymmetric(
      part((at) => average[at]! + correction[at]!),
      target,
    ) ??
    solveSymmetric(
      part((at) => average[at]!),
      target,
    ) ??
    solveSymmetric(
      part((at) => information[at]!),
      target,
    ) ??
    solveSymmetric(
      part((at, diagonal) => information[at]! + (diagonal ? leastExpected[Math.floor(at / count)]! : 0)),
      target,
    )
  if (!solution) throw new OutOfRange('information on the variances', 0, 'above 0: neither rows nor priors bound them')
  return solution
}

/** Variances after a share of a step. */
export function moved(
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

/** Largest step, relative to its variance. */
export function relativeStep(
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

/** What was moved, on the scales of the search. */
export function stepTaken(
  components: readonly SearchComponent[],
  before: readonly number[],
  after: readonly number[],
): Float64Array {
  return Float64Array.from(components, ({ scale }, g) => {
    if (scale === 'held') return 0
    return scale === 'log' ? Math.log(after[g]! / before[g]!) : after[g]! - before[g]!
  })
}
