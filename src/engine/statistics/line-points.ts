import { OutOfRange } from '../errors.js'

export interface XY {
  readonly x: number
  readonly y: number
}

/**
 * Whether a straight line can be laid through points.
 *
 * @throws OutOfRange where they are too few, not finite, or all at one x
 */
export function checkLinePoints(points: readonly XY[], least: number): void {
  if (points.length < least) throw new OutOfRange('number of points', points.length, `at least ${least}`)
  points.forEach(({ x, y }, i) => {
    if (!Number.isFinite(x)) throw new OutOfRange(`x of point ${i}`, x, 'finite')
    if (!Number.isFinite(y)) throw new OutOfRange(`y of point ${i}`, y, 'finite')
  })
  if (points.every(({ x }) => x === points[0]!.x)) {
    throw new OutOfRange('x of the points', points[0]!.x, 'at least two different values')
  }
}
