import type { BlockedModel } from './blocks.js'
import type { CentredResponse } from './centre.js'
import type { FitOptions, MixedModelData, RandomTerm } from './types.js'

/** A start keeps each variance above this share of the spread: from a bound a search would have to find its way first. */
const LEAST_SHARE = 0.01
/** The terms together get at most this share of the spread. */
const MOST_SHARE = 0.9

/** Harmonic mean over the rows of their variance about the fixed effects, known errors included; 1 where nothing is known. */
export function spreadOf(data: MixedModelData, { meanSquare }: CentredResponse): number {
  let sum = 0
  for (const error of data.errorVariance) sum += 1 / (meanSquare + error)
  return Number.isFinite(sum) ? data.y.length / sum : 1
}

/**
 * Where to start: as held or given, else by the method of moments, a term at a time as if the others were noise,
 *
 *     E Σ_l (z_l'r)² ≈ σ_g²·Σ_l (z_l'z_l)² + (s² − σ_g²)·Σ_l z_l'z_l,   r centred y of mean square s²
 *
 * which is close for crossed terms (the residual takes what is left), and cuts the search by some steps.
 */
export function startingVariances(
  data: MixedModelData,
  model: BlockedModel,
  centred: CentredResponse,
  options: FitOptions,
  spread: number,
): number[] {
  const known = model.componentNames.map((name) => {
    const held = options.heldVariances?.[name]
    if (held !== undefined) return held
    const given = options.start?.[name]
    const flat = (options.variancePriors?.[name]?.kind ?? 'flat') === 'flat'
    return given !== undefined && (given > 0 || flat) ? given : undefined
  })
  if (known.every((value) => value !== undefined)) return known
  const byMoments = varianceByMoments(data, centred, spread)
  return known.map((value, component) => value ?? byMoments[component]!)
}

/** By component, the residual last. */
function varianceByMoments(data: MixedModelData, centred: CentredResponse, spread: number): number[] {
  const found = data.random.map((term) => termShare(term, centred))
  // What levels of one term share includes what the levels of a term around it share.
  const shares = found.map((share, inner) => {
    const around = found.filter((_, outer) => outer !== inner && isNested(data.random[inner]!, data.random[outer]!))
    return Math.max(0, share - Math.max(0, ...around))
  })
  const total = shares.reduce((sum, share) => sum + share, 0)
  const shrink = total > MOST_SHARE ? MOST_SHARE / total : 1
  const ofTerms = data.random.map(
    ({ membership }, term) => (spread * Math.max(LEAST_SHARE, shares[term]! * shrink)) / meanSquaredWeight(membership),
  )
  return [...ofTerms, Math.max(spread * (1 - MOST_SHARE), spread * (1 - total * shrink) - meanError(data))]
}

/** Whether every level of a term is met within one level of another, by rows that are its members alone. */
function isNested(inner: RandomTerm, outer: RandomTerm): boolean {
  if (inner.levels.length <= outer.levels.length) return false
  const around = new Int32Array(inner.levels.length).fill(-1)
  return inner.membership.every((members, row) => {
    const [own, ...others] = outer.membership[row]!
    if (!own || others.length > 0) return false
    return members.every(({ level }) => {
      if (around[level]! < 0) around[level] = own.level
      return around[level] === own.level
    })
  })
}

function meanError({ errorVariance }: MixedModelData): number {
  return errorVariance.reduce((sum, error) => sum + error, 0) / errorVariance.length
}

/** Share of a term in the mean square of the centred y, from 0 to 1. */
function termShare({ levels, membership }: RandomTerm, { y, meanSquare }: CentredResponse): number {
  const responses = new Float64Array(levels.length)
  const squares = new Float64Array(levels.length)
  for (let row = 0; row < membership.length; row++) {
    for (const { level, weight } of membership[row]!) {
      responses[level]! += weight * y[row]!
      squares[level]! += weight * weight
    }
  }
  let found = 0
  let ofTerm = 0
  let ofNoise = 0
  for (let level = 0; level < levels.length; level++) {
    found += responses[level]! ** 2
    ofTerm += squares[level]! ** 2
    ofNoise += squares[level]!
  }
  const share = (found / meanSquare - ofNoise) / (ofTerm - ofNoise)
  return Number.isFinite(share) ? Math.min(1, Math.max(0, share)) : 1 / 2
}

function meanSquaredWeight(membership: readonly (readonly { weight: number }[])[]): number {
  let sum = 0
  for (const members of membership) for (const { weight } of members) sum += weight * weight
  return sum > 0 ? sum / membership.length : 1
}
