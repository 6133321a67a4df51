/** A bracket is halved at least this often, were no step any better: down to the spacing of doubles. */
const MOST_STEPS = 200

/**
 * Where an increasing function reaches a value, between two bounds; the nearer bound where it does not. Inverse quadratic
 * interpolation where the last three points lie so that it can be trusted, else halves: a smooth function takes some ten evaluations,
 * and a step no more than bisection does.
 *
 * @param increasing non-decreasing on [lower, upper]
 * @param bounds and, where it can be guessed, between which two of them it is likely: a good guess saves half of the evaluations
 * @param tolerance width of the bracket at which its upper end is returned, > 0; the spacing of doubles at least
 * @see Chandrupatla, Advances in Engineering Software 28 (1997) 145–149
 * @example whereReached((x) => x ** 3, 8, { lower: 0, upper: 10 }, 1e-9) // 2.000…
 */
export function whereReached(
  increasing: (x: number) => number,
  value: number,
  bounds: Bounds,
  tolerance: number,
): number {
  const at = (x: number): Point => ({ x, y: increasing(x) - value })
  const [low, high] = bracketOf(at, bounds)
  if (high.y < 0) return high.x
  if (low.y >= 0) return low.x
  let [newest, opposite] = [high, low]
  let share = 0.5
  for (let step = 0; step < MOST_STEPS; step++) {
    const next = at(newest.x + share * (opposite.x - newest.x))
    let dropped: Point
    if (next.y >= 0 === newest.y >= 0) {
      dropped = newest
    } else {
      dropped = opposite
      opposite = newest
    }
    newest = next
    const width = Math.abs(opposite.x - newest.x)
    const spacing = Math.max(tolerance, 4 * Number.EPSILON * Math.max(Math.abs(newest.x), Math.abs(opposite.x)))
    if (width <= spacing) break
    share = shareOfBracket(newest, opposite, dropped, spacing / width)
  }
  return newest.y >= 0 ? newest.x : opposite.x
}

interface Point {
  readonly x: number
  readonly y: number
}

export interface Bounds {
  readonly lower: number
  readonly upper: number
  readonly likely?: readonly [number, number]
}

/** The narrowest bracket that the guess leaves. */
function bracketOf(at: (x: number) => Point, { lower, upper, likely }: Bounds): readonly [Point, Point] {
  if (likely === undefined) return [at(lower), at(upper)]
  const [near, far] = likely.map((x) => at(Math.min(upper, Math.max(lower, x)))) as [Point, Point]
  if (near.y >= 0) return [at(lower), near]
  return far.y < 0 ? [far, at(upper)] : [near, far]
}

/** Where between the newest point (0) and the one across the root (1) to look next. */
function shareOfBracket(newest: Point, opposite: Point, dropped: Point, least: number): number {
  const ofX = (newest.x - opposite.x) / (dropped.x - opposite.x)
  const ofY = (newest.y - opposite.y) / (dropped.y - opposite.y)
  const trusted = ofY ** 2 < ofX && (1 - ofY) ** 2 < 1 - ofX
  if (!trusted) return 0.5
  const near = (newest.y / (opposite.y - newest.y)) * (dropped.y / (opposite.y - dropped.y))
  const far = ((dropped.x - newest.x) / (opposite.x - newest.x)) * (newest.y / (dropped.y - newest.y))
  const share = near + far * (opposite.y / (dropped.y - opposite.y))
  return Math.min(1 - least, Math.max(least, share))
}
