import { LAW_EXPONENTS } from '../depletion/compare-laws.js'
import { consumptionCoordinate } from '../depletion/consumption-coordinate.js'
import type { ObservedAnode } from './mass-states.js'
import { shapeClass } from './observation-model.js'
import { RESIDUAL_DEGREES_OF_FREEDOM, RESIDUAL_SD_MODE } from './rate-priors.js'

/** The depletion exponent of a shape, with what speaks for it. */
export interface LearnedExponent {
  readonly shape: string
  readonly exponent: number
  /** Standard deviation of what is believed of it, given the anodes [–]. */
  readonly sd: number
  /** Anodes weighed three times or more, their fitting counted: those alone tell. */
  readonly anodes: number
  /** Log likelihood above that of constant current, q = 0: some 2 is evidence, some 5 is strong. */
  readonly evidence: number
  /** The laws with a reason, held against each other. */
  readonly laws: readonly LawEvidence[]
}

/** What the anodes of a shape say of one law. */
export interface LawEvidence {
  /** 0 constant current, 2/3 current by surface, 1 current by mass. */
  readonly exponent: number
  /** Log likelihood above that of constant current. */
  readonly evidence: number
  /** Among these laws, each as likely as the others beforehand. */
  readonly probability: number
}

/** Belief about q: constant current, give or take. 2/3 would be current in proportion to surface. Assumed. */
const EXPONENT_SD = 0.4
const LARGEST_EXPONENT = 1.2
const STEP = 0.02
/** A mass known no better than this share of the new one tells nothing of the law's curvature. */
const WORST_SD_SHARE = 0.03
/** Where less is left, error and core decide the coordinate. */
const LEAST_SHARE_LEFT = 0.05

/**
 * Estimates q by shape from how an anode's own rate changes as it wastes: only differences within one anode count, so that
 * boats that waste fast are not taken for a law. By maximum posterior on a grid:
 *
 *     log L(q) = Σ_anodes log p(contrasts of log(u_j(q)/E_j)),  contrasts under a Student t, the anode's own mean left out
 *
 * There is no term for the change of variable from masses to rates: for a known mean rate it would belong there, with the mean
 * left free it pulls q up by some 0.2, while the contrasts alone are off by some 0.02 (simulated; see the test). With few
 * anodes the prior keeps q at 0.
 *
 * @param anodes observed with q = 0, exposure weighted by season
 * @see docs/model.md, section "Depletion law"
 */
export function learnExponents(anodes: readonly ObservedAnode[]): LearnedExponent[] {
  const byShape = new Map<string, Wasting[]>()
  for (const anode of anodes) {
    const wasting = wastingOf(anode)
    if (wasting === null) continue
    const shape = shapeClass(anode.history.shape)
    byShape.set(shape, [...(byShape.get(shape) ?? []), wasting])
  }
  return [...byShape].map(([shape, group]) => ({ shape, anodes: group.length, ...exponentOf(group) })).sort(byName)
}

const byName = (a: LearnedExponent, b: LearnedExponent) => (a.shape < b.shape ? -1 : 1)

/** Shares of the net mass left at successive weighings, with the exposure between them. */
interface Wasting {
  readonly left: readonly number[]
  readonly sd: readonly number[]
  readonly exposure: readonly number[]
}

function wastingOf({ states, fitted }: ObservedAnode): Wasting | null {
  const known = states
    .map((state) => ({
      left: 1 - state.consumption / fitted.netMassG,
      sd: Math.sqrt(state.variance) / fitted.netMassG,
      exposureDays: state.exposureDays,
    }))
    .filter(({ left, sd }) => sd <= WORST_SD_SHARE && left >= LEAST_SHARE_LEFT)
  const falling = known.every(({ left, sd }, i) => i === 0 || known[i - 1]!.left - left > 2 * sd)
  if (known.length < 3 || !falling) return null
  return {
    left: known.map(({ left }) => left),
    sd: known.map(({ sd }) => sd),
    exposure: known.slice(1).map(({ exposureDays }, i) => exposureDays - known[i]!.exposureDays),
  }
}

function exponentOf(group: readonly Wasting[]): Omit<LearnedExponent, 'shape' | 'anodes'> {
  const likelihood = (exponent: number) => group.reduce((sum, each) => sum + logLikelihood(each, exponent), 0)
  const none = likelihood(0)
  const grid = Array.from({ length: Math.round(LARGEST_EXPONENT / STEP) + 1 }, (_, step) => {
    const exponent = step * STEP
    const evidence = likelihood(exponent) - none
    return { exponent, evidence, posterior: evidence - (exponent / EXPONENT_SD) ** 2 / 2 }
  })
  const best = grid.reduce((a, b) => (b.posterior > a.posterior ? b : a))
  return {
    exponent: best.exponent,
    sd: spreadOf(grid.map(({ exponent, posterior }) => [exponent, Math.exp(posterior - best.posterior)])),
    evidence: best.evidence,
    laws: lawEvidence((exponent) => likelihood(exponent) - none),
  }
}

function spreadOf(weighted: readonly (readonly [value: number, weight: number])[]): number {
  const total = weighted.reduce((sum, [, weight]) => sum + weight, 0)
  const mean = weighted.reduce((sum, [value, weight]) => sum + value * weight, 0) / total
  return Math.sqrt(weighted.reduce((sum, [value, weight]) => sum + (value - mean) ** 2 * weight, 0) / total)
}

function lawEvidence(evidenceOf: (exponent: number) => number): LawEvidence[] {
  const laws = LAW_EXPONENTS.map((exponent) => ({ exponent, evidence: evidenceOf(exponent) }))
  const most = Math.max(...laws.map(({ evidence }) => evidence))
  const total = laws.reduce((sum, { evidence }) => sum + Math.exp(evidence - most), 0)
  return laws.map((law) => ({ ...law, probability: Math.exp(law.evidence - most) / total }))
}

/** Of one anode's masses, its own mean rate unknown: contrasts under a Student t. */
function logLikelihood({ left, sd, exposure }: Wasting, exponent: number): number {
  const intervals = exposure.map((days, j) => {
    const u = consumptionCoordinate(1, left[j]!, left[j + 1]!, exponent)
    const slope = left[j + 1]! ** -exponent
    const error = Math.hypot(sd[j]! * left[j]! ** -exponent, sd[j + 1]! * slope) / u
    return { y: Math.log(u / days), weight: 1 / (RESIDUAL_SD_MODE ** 2 + error ** 2) }
  })
  const total = intervals.reduce((sum, { weight }) => sum + weight, 0)
  const mean = intervals.reduce((sum, { y, weight }) => sum + weight * y, 0) / total
  const nu = RESIDUAL_DEGREES_OF_FREEDOM
  return intervals.reduce(
    (sum, { y, weight }) => sum - ((nu + 1) / 2) * Math.log1p((weight * (y - mean) ** 2) / nu) + Math.log(weight) / 2,
    -Math.log(total) / 2,
  )
}
