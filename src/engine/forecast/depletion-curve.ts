import { grossMassAt } from '../rates/mass-states.js'
import { normalQuantile } from '../statistics/distributions/normal.js'
import type { AnodeOutlook } from './anode-outlook.js'
import { grossMassOn, type PacedMass, type Quantiles } from './forecast-anode.js'

/** Gross mass of the cleaned anode on a day [g]. */
export interface CurvePoint extends Quantiles {
  readonly on: number
}

/** The part of an outlook that its curve shows. */
export type DrawnOutlook = PacedMass & Pick<AnodeOutlook, 'boat' | 'path'>

/** Points a span is drawn with: fine enough for a screen. */
const POINTS_PER_SPAN = 24

/**
 * An anode's mass over time, for drawing: through its weighings as filtered, in proportion to the exposure between them,
 * then as forecast until `untilDay`.
 *
 * @param untilDay last day wanted; days before the last weighing are drawn whatever it is
 */
export function depletionCurve(outlook: DrawnOutlook, untilDay: number): CurvePoint[] {
  const past = outlook.path.flatMap((state, index) => {
    const next = outlook.path[index + 1]
    return next === undefined ? [] : between(state.on, next.on).map((on) => interpolate(outlook, index, on))
  })
  const future = between(outlook.last.on, Math.max(untilDay, outlook.last.on)).map((on) => ({
    on,
    ...grossMassOn(outlook, on),
  }))
  return [...past, ...future]
}

function interpolate({ path, boat, anode }: DrawnOutlook, index: number, on: number): CurvePoint {
  const from = path[index]!
  const to = path[index + 1]!
  const exposure = to.exposureDays - from.exposureDays
  const share = exposure > 0 ? boat.calendar.between(from.on, on).days / exposure : 0
  const consumption = from.consumption + share * (to.consumption - from.consumption)
  const sd = Math.sqrt((1 - share) * from.variance + share * to.variance)
  const at = (probability: number) => grossMassAt(anode, consumption + normalQuantile(1 - probability) * sd)
  return { on, p10: at(0.1), p50: at(0.5), p90: at(0.9) }
}

/** Whole days from one to another, the first included and the last too where they differ. */
function between(from: number, to: number): number[] {
  const steps = Math.min(POINTS_PER_SPAN, to - from)
  const days = Array.from({ length: steps + 1 }, (_, step) =>
    Math.round(from + (step * (to - from)) / Math.max(steps, 1)),
  )
  return [...new Set(days)]
}
