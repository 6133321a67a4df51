import type { PlotData } from '../../../presentation/depletion-drawing.js'
import { sayMass } from '../../wording/amounts.js'
import { sayDay } from '../../wording/days.js'
import { t } from './boat-words.js'

export type CurvePoint = PlotData['curve'][number]

/** The points that can be read, one a day: where a weighing breaks the curve, what is known after it. */
export function readablePoints(curve: readonly CurvePoint[]): CurvePoint[] {
  return curve.filter(({ at }, index) => curve[index + 1]?.at.getTime() !== at.getTime())
}

/** Index of the point nearest to an instant [ms]; of several as near, the first. */
export function nearestPoint(points: readonly CurvePoint[], instant: number): number {
  const distance = (index: number) => Math.abs((points[index]?.at.getTime() ?? Number.POSITIVE_INFINITY) - instant)
  return points.reduce((best, _, index) => (distance(index) < distance(best) ? index : best), 0)
}

/** @example sayReading({ at, p10: 610, p50: 655, p90: 700 }) // '12 May 2027: 655 g, 8 times in 10 between 610 g and 700 g' */
export function sayReading({ at, p10, p50, p90 }: CurvePoint): string {
  return t('reader.reading', { day: sayDay(dayOf(at)), mass: sayMass(p50), from: sayMass(p10), to: sayMass(p90) })
}

export function dayOf(at: Date): string {
  return at.toISOString().slice(0, 10)
}
