/** A value moves by at most this in one step, so that an observation far from its expectation cannot throw the iteration. */
const LONGEST_STEP = 1
const SHRINK = 0.5
const GROW = 1.3

/**
 * Steps of a fixed-point iteration x ← x + α·(g(x) − x), each component with an α of its own: halved when its direction
 * turns, for then it overshot, and let grow back to 1 while it keeps its direction. Where g folds back on itself (an
 * observation that is an outlier or not, depending on where x stands) the plain iteration may swing for ever.
 */
export class DampedStep {
  readonly #share: Float64Array
  readonly #last: Float64Array

  constructor(length: number) {
    this.#share = new Float64Array(length).fill(1)
    this.#last = new Float64Array(length)
  }

  /** The next x, from x on the way to g(x). */
  towards(now: Float64Array, target: Float64Array): Float64Array {
    return now.map((value, row) => {
      const distance = target[row]! - value
      const turned = distance * this.#last[row]! < 0
      this.#share[row] = turned ? this.#share[row]! * SHRINK : Math.min(1, this.#share[row]! * GROW)
      this.#last[row] = distance
      return value + this.#share[row]! * Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, distance))
    })
  }
}
