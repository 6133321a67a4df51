import { Matrix, solve } from 'ml-matrix'
import { OutOfRange } from '../errors.js'
import { type CumulativeSumDesign, checkDesign } from './cumulative-sum.js'
import { gaussLegendre } from './distributions/gauss-legendre.js'
import { normalCdf, normalDensity } from './distributions/normal.js'

/** Enough for ten digits at limits up to some tens: the kernel is a normal density of unit width. */
const LEAST_NODES = 40
const NODES_PER_UNIT = 6

/** Where a chart begins, and by how much the values are shifted. */
export interface RunLengthCase {
  /** Mean of the values [standard deviations]; 0 is in control. */
  readonly mean?: number
  /** The sum's value before the first observation, in [0, h]; 0 unless given. */
  readonly headStart?: number
}

/**
 * Average number of values up to and including the signal of a one-sided upward cumulative sum of independent normal values:
 *
 *     L(s) = 1 + L(0)·Φ(k − s − μ) + ∫₀ʰ L(x)·φ(x + k − s − μ) dx
 *
 * by Nyström's method with a Gauss–Legendre rule. The downward sum has the run length of the upward one at −μ.
 *
 * @throws OutOfRange for a design or a head start out of range, or a run longer than double precision can tell
 *
 * Source: Page, Biometrika 41 (1954) 100–115; Goel and Wu, Technometrics 13 (1971) 221–230; Vance, J. Qual. Technol. 18 (1986)
 * 189–193; head start: Lucas and Crosier, Technometrics 24 (1982) 199–205.
 *
 * @example averageRunLength({ allowance: 0.5, limit: 4 }) // 335.37
 */
export function averageRunLength(design: CumulativeSumDesign, { mean = 0, headStart = 0 }: RunLengthCase = {}): number {
  checkDesign(design)
  checkCase(design, { mean, headStart })
  const { nodes, weights } = ruleOn(design.limit)
  const points = [0, ...nodes]
  const n = points.length
  const step = (from: number, to: number) => to + design.allowance - from - mean
  const system = Matrix.eye(n, n)
  points.forEach((from, i) => {
    system.set(i, 0, system.get(i, 0) - normalCdf(step(from, 0)))
    nodes.forEach((to, j) => {
      system.set(i, j + 1, system.get(i, j + 1) - weights[j]! * normalDensity(step(from, to)))
    })
  })
  const lengths = solve(system, Matrix.ones(n, 1)).to1DArray()
  let length = 1 + lengths[0]! * normalCdf(step(headStart, 0))
  nodes.forEach((to, j) => {
    length += weights[j]! * normalDensity(step(headStart, to)) * lengths[j + 1]!
  })
  if (!(length >= 1 && Number.isFinite(length))) {
    throw new OutOfRange('average run length', length, 'short enough for double precision')
  }
  return length
}

/**
 * The same of the upward and the downward sum watched together, both from 0:
 *
 *     1/L = 1/L⁺ + 1/L⁻
 *
 * exact where both cannot be above 0 for long together, as with equal limits and allowances (Van Dobben de Bruyn, Cumulative
 * Sum Tests (1968), 2.5).
 */
export function twoSidedAverageRunLength(design: CumulativeSumDesign, mean = 0): number {
  return 1 / (1 / averageRunLength(design, { mean }) + 1 / averageRunLength(design, { mean: -mean }))
}

/** The decision limits worth looking at, and halvings down to the spacing of doubles. */
const LIMITS = [0.01, 30] as const
const HALVINGS = 60

/**
 * The decision limit at which a one-sided sum of in-control values runs for so long on average.
 *
 * @param runLength above 1
 * @throws OutOfRange for a run length that no limit from 0.01 to 30 gives
 *
 * @example limitForRunLength(1000, 0.5) // 5.0707
 */
export function limitForRunLength(runLength: number, allowance: number): number {
  let [low, high] = LIMITS as readonly [number, number]
  const lengthAt = (limit: number) => averageRunLength({ allowance, limit })
  // Double first, so that limits far beyond what double precision can tell are not tried.
  let reach = 1
  while (reach < high && lengthAt(reach) < runLength) reach *= 1.5
  high = Math.min(high, reach)
  if (!(lengthAt(low) <= runLength && lengthAt(high) >= runLength)) {
    throw new OutOfRange('average run length', runLength, 'what a limit from 0.01 to 30 can give')
  }
  for (let halving = 0; halving < HALVINGS && high - low > 1e-12 * high; halving++) {
    const middle = (low + high) / 2
    if (lengthAt(middle) < runLength) low = middle
    else high = middle
  }
  return (low + high) / 2
}

function checkCase({ limit }: CumulativeSumDesign, { mean, headStart }: Required<RunLengthCase>): void {
  if (!Number.isFinite(mean)) throw new OutOfRange('mean of the values', mean, 'finite')
  if (!(headStart >= 0 && headStart <= limit)) throw new OutOfRange('head start', headStart, 'from 0 to the limit')
}

function ruleOn(limit: number) {
  const rule = gaussLegendre(Math.max(LEAST_NODES, Math.ceil(NODES_PER_UNIT * limit)))
  return {
    nodes: rule.nodes.map((x) => ((x + 1) * limit) / 2),
    weights: rule.weights.map((weight) => (weight * limit) / 2),
  }
}
