import { OutOfRange } from '../../errors.js'
import type { BlockedModel } from './blocks.js'
import { evaluate } from './evaluate.js'
import type { SearchComponent } from './objective.js'

/** Share of a component's information that is no more than rounding error. */
const SMALLEST_INFORMATION_SHARE = 1e-9

/**
 * Refuses variances without a prior that no data of this design can tell: the information tr(P·A_g·P·A_h) on them
 * is singular. It is singular at every value of the variances or at none, so one value decides.
 *
 * @throws OutOfRange naming the first such variance
 */
export function refuseUnidentified(
  model: BlockedModel,
  components: readonly SearchComponent[],
  start: readonly number[],
  spread: number,
): void {
  const free = components.flatMap(({ scale }, g) => (scale === 'variance' ? [g] : []))
  if (free.length === 0) return
  // Away from zero, where a start on the bound would hide what the others share.
  const share = spread / components.length
  const inside = start.map((value, g) => (value > 0 || components[g]!.scale === 'held' ? value : share))
  const at = evaluate(model, inside)
  if (!at) throw new OutOfRange('covariance of y at the starting variances', 'singular', 'positive definite')
  const count = components.length
  const factor = free.map(() => new Float64Array(free.length))
  free.forEach((g, a) => {
    const own = at.expected[g * count + g]!
    let pivot = own
    for (let b = 0; b < a; b++) {
      let entry = at.expected[g * count + free[b]!]!
      for (let c = 0; c < b; c++) entry -= factor[a]![c]! * factor[b]![c]!
      factor[a]![b] = entry / factor[b]![b]!
      pivot -= factor[a]![b]! ** 2
    }
    const name = model.componentNames[g]!
    const enough = own * inside[g]! ** 2 > SMALLEST_INFORMATION_SHARE && pivot > SMALLEST_INFORMATION_SHARE * own
    if (!enough) {
      throw new OutOfRange(`variance of ${name}`, 'unidentified', 'one that the rows can tell apart (or have a prior)')
    }
    factor[a]![a] = Math.sqrt(pivot)
  })
}
