import { OutOfRange } from '../../errors.js'
import type { BlockedModel } from './blocks.js'
import { type Evaluation, evaluate } from './evaluate.js'
import type { SearchComponent } from './objective.js'
import { ModelSolver } from './solve-model.js'

/** Share of a component's information that is no more than rounding error. */
const SMALLEST_INFORMATION_SHARE = 1e-9

/**
 * Refuses variances without a prior that no data of this design can tell. The information tr(P·A_g·P·A_h) is then
 * singular, at every value of the variances, and so is y'P·A_g·P·A_h·Py for every y. Hence where this is not singular
 * for the y at hand nothing more is asked; else a y that follows no pattern decides, since the one at hand may be
 * degenerate (all the same, say) though the design is not.
 *
 * @returns the evaluation at `start`, where that is where it was looked at
 * @throws OutOfRange naming the first such variance
 */
export function refuseUnidentified(
  model: BlockedModel,
  solver: ModelSolver,
  components: readonly SearchComponent[],
  start: readonly number[],
  spread: number,
): Evaluation | undefined {
  const free = components.flatMap(({ scale }, g) => (scale === 'variance' ? [g] : []))
  if (free.length === 0) return undefined
  // Away from zero, where a start on the bound would hide what the others share.
  const share = spread / components.length
  const inside = start.map((value, g) => (value > 0 || components[g]!.scale === 'held' ? value : share))
  const known = evaluatedAt(model, solver, inside)
  if (firstUnidentified(known, free, inside) === undefined) {
    return inside.every((value, g) => value === start[g]) ? known : undefined
  }
  const patternless = { ...model, values: { ...model.values, y: withoutPattern(model.values.y.length) } }
  const unidentified = firstUnidentified(evaluatedAt(patternless, new ModelSolver(patternless), inside), free, inside)
  if (unidentified === undefined) return undefined
  throw new OutOfRange(
    `variance of ${model.componentNames[unidentified]!}`,
    'unidentified',
    'one that the rows can tell apart (or have a prior)',
  )
}

function evaluatedAt(model: BlockedModel, solver: ModelSolver, variances: readonly number[]): Evaluation {
  const at = evaluate(model, solver, variances)
  if (!at) throw new OutOfRange('covariance of y at the starting variances', 'singular', 'positive definite')
  return at
}

/** The first component whose information is made up by that of the ones before it. */
function firstUnidentified(
  { average, leastExpected }: Evaluation,
  free: readonly number[],
  variances: readonly number[],
): number | undefined {
  const count = variances.length
  const factor = free.map(() => new Float64Array(free.length))
  return free.find((g, a) => {
    const own = average[g * count + g]!
    let pivot = own
    for (let b = 0; b < a; b++) {
      let entry = average[g * count + free[b]!]!
      for (let c = 0; c < b; c++) entry -= factor[a]![c]! * factor[b]![c]!
      factor[a]![b] = entry / factor[b]![b]!
      pivot -= factor[a]![b]! ** 2
    }
    factor[a]![a] = Math.sqrt(pivot)
    // Rows that say nothing on a variance have P·A_g = 0, hence no trace, whatever y.
    const enough = leastExpected[g]! * variances[g]! ** 2 > SMALLEST_INFORMATION_SHARE ** 2
    return !(enough && own > 0 && pivot > SMALLEST_INFORMATION_SHARE * own)
  })
}

/** Fractional parts of multiples of the golden ratio, about 0: spread evenly, and no combination of a design's columns. */
function withoutPattern(length: number): Float64Array {
  const ratio = (Math.sqrt(5) - 1) / 2
  return Float64Array.from({ length }, (_, i) => (((i + 1) ** 2 * ratio) % 1) - 0.5)
}
