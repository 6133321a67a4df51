import { OutOfRange } from '../../errors.js'
import { type BlockedModel, blockModel } from './blocks.js'
import { type CentredResponse, centreResponse } from './centre.js'
import { checkData, checkOptions } from './checked-data.js'
import { solveModel } from './evaluate.js'
import { type FittedState, fittedModel } from './fitted-model.js'
import { refuseUnidentified } from './identification.js'
import type { SearchComponent } from './objective.js'
import { optimiseTwice } from './optimise.js'
import { type FitOptions, type MixedModelData, type MixedModelFit, RESIDUAL } from './types.js'
import { appendRows, extendState } from './with-rows.js'

/** Mean square about the fixed effects, as a share of that of y, that is no more than rounding error. */
const EXACT_FIT_SHARE = 1e-26

/**
 * Fits a linear mixed model: variances by restricted maximum likelihood (with penalties where asked for), effects by
 * Henderson's equations.
 *
 * Exact and sparse: rows are cut into blocks that share no effect of the eliminated terms, each is eliminated by a
 * Cholesky factor of its own size, and a small system over (β, remaining effects) is left. Work and memory grow
 * linearly with the rows as long as blocks stay bounded.
 *
 * @throws OutOfRange for data that cannot be fitted: fixed effects that depend on one another, variances that the
 * rows cannot tell apart without a prior, effects that fit y exactly
 * @throws NotConverged where the search does not settle
 *
 * Source: Patterson and Thompson, Biometrika 58 (1971) 545–554; Searle, Casella, McCulloch, Variance Components
 * (1992), ch. 6–7; multiple membership: Browne, Goldstein, Rasbash, Statistical Modelling 1 (2001) 103–124.
 *
 * @example
 * const fit = fitMixedModel({
 *   y: Float64Array.of(1.0, 1.2, 2.1, 2.0, 0.4, 0.7),
 *   fixedNames: ['intercept'],
 *   fixed: [new Float64Array(6).fill(1)],
 *   random: [{
 *     name: 'batch', levels: ['a', 'b', 'c'],
 *     membership: [0, 0, 1, 1, 2, 2].map((level) => [{ level, weight: 1 }]),
 *   }],
 *   errorVariance: new Float64Array(6),
 * })
 * fit.variances // { batch: 0.5641…, residual: 0.0233… }
 */
export function fitMixedModel(data: MixedModelData, options: FitOptions = {}): MixedModelFit {
  checkData(data)
  checkOptions(data, options)
  const centred = centreResponse(data)
  const model = blockModel(data, centred, RESIDUAL)
  const components = model.componentNames.map((name) => searchComponent(name, options))
  const spread = spreadOf(data, centred)
  const start = startingVariances(data, model, options, spread)
  if (components.every(({ scale }) => scale === 'held')) return presentFit(solveState(data, centred, model, start), 0)
  refuseExactFit(data, model, components, centred)
  refuseUnidentified(model, components, start, spread)
  const { variances, iterations } = optimiseTwice(model, components, start, spread)
  return presentFit(solveState(data, centred, model, variances), iterations)
}

function solveState(
  data: MixedModelData,
  centred: CentredResponse,
  model: BlockedModel,
  variances: readonly number[],
): FittedState {
  const solved = solveModel(model, variances)
  if (!solved) throw new OutOfRange('covariance of y at the variances', 'singular', 'positive definite')
  return { data, centred, model, variances, solved }
}

function presentFit(state: FittedState, iterations: number): MixedModelFit {
  return fittedModel(state, iterations, (rows) => {
    const data = appendRows(state.data, rows)
    checkData(data)
    const extended = extendState(state, data)
    if (extended) return presentFit(extended, 0)
    const heldVariances = Object.fromEntries(state.model.componentNames.map((name, g) => [name, state.variances[g]!]))
    return fitMixedModel(data, { heldVariances })
  })
}

function searchComponent(name: string, options: FitOptions): SearchComponent {
  const prior = options.variancePriors?.[name] ?? { kind: 'flat' as const }
  if (options.heldVariances?.[name] !== undefined) return { scale: 'held', prior }
  return { scale: prior.kind === 'flat' ? 'variance' : 'log', prior }
}

/** Harmonic mean over the rows of their variance about the fixed effects, known errors included; 1 where nothing is known. */
function spreadOf(data: MixedModelData, { meanSquare }: CentredResponse): number {
  let sum = 0
  for (const error of data.errorVariance) sum += 1 / (meanSquare + error)
  return Number.isFinite(sum) ? data.y.length / sum : 1
}

function startingVariances(data: MixedModelData, model: BlockedModel, options: FitOptions, spread: number): number[] {
  return model.componentNames.map((name, component) => {
    const held = options.heldVariances?.[name]
    if (held !== undefined) return held
    const given = options.start?.[name]
    const flat = (options.variancePriors?.[name]?.kind ?? 'flat') === 'flat'
    if (given !== undefined && (given > 0 || flat)) return given
    const term = data.random[component]
    return spread / model.componentNames.length / (term ? meanSquaredWeight(term.membership) : 1)
  })
}

function meanSquaredWeight(membership: readonly (readonly { weight: number }[])[]): number {
  let sum = 0
  for (const members of membership) for (const { weight } of members) sum += weight * weight
  return sum > 0 ? sum / membership.length : 1
}

function refuseExactFit(
  data: MixedModelData,
  model: BlockedModel,
  components: readonly SearchComponent[],
  { meanSquare, flatCount }: CentredResponse,
): void {
  const free = components.filter(({ scale }) => scale !== 'held')
  const rows = model.rowCount
  if (rows <= flatCount && free.some(({ scale }) => scale === 'variance')) {
    throw new OutOfRange('number of rows', rows, `above ${flatCount}, the number of fixed effects without a prior`)
  }
  const total = data.y.reduce((sum, value) => sum + value * value, 0) / rows
  const exact = rows > flatCount && meanSquare <= EXACT_FIT_SHARE * total
  const residualHeld = components.at(-1)!.scale === 'held'
  if (exact && !residualHeld && data.errorVariance.every((error) => error === 0)) {
    throw new OutOfRange('mean square about the fixed effects', meanSquare, 'above 0: the fixed effects fit y exactly')
  }
}
