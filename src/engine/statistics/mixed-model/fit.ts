import { OutOfRange } from '../../errors.js'
import { type BlockedDesign, type BlockedModel, blockModel, cutDesign } from './blocks.js'
import { type CentredResponse, centreResponse } from './centre.js'
import { checkData, checkOptions } from './checked-data.js'
import { type FittedState, fittedModel } from './fitted-model.js'
import { refuseUnidentified } from './identification.js'
import type { SearchComponent } from './objective.js'
import { optimiseTwice } from './optimise.js'
import { ModelSolver } from './solve-model.js'
import { spreadOf, startingVariances } from './start.js'
import { type FitOptions, type MixedModelData, type MixedModelFit, RESIDUAL } from './types.js'
import { appendRows, extendState } from './with-rows.js'

/** Relative error of the variances: what linear algebra leaves of sixteen digits. */
const DEFAULT_TOLERANCE = 1e-9
/** Mean square about the fixed effects, as a share of that of y, that is no more than rounding error. */
const EXACT_FIT_SHARE = 1e-26

/**
 * Fits a linear mixed model: variances by restricted maximum likelihood (with penalties where asked for), effects by
 * Henderson's equations.
 *
 * Exact and sparse: rows are cut into blocks that share no effect of the eliminated terms, each is eliminated by a
 * Cholesky factor of its own size, and a small system over (β, remaining effects) is left. Work and memory grow
 * linearly with the rows as long as blocks stay bounded. The small system is inverted once an iteration (in tiles), and
 * all that derivatives and errors need of it are the entries between the few columns that a block meets.
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
  const like = options.like && sameDesign(data, options.like.data) ? designOf(options.like) : undefined
  checkData(data, like !== undefined)
  checkOptions(data, options)
  const centred = centreResponse(data)
  const design = like ?? cutDesign(data, RESIDUAL)
  const model = blockModel(design, data, centred)
  const components = model.componentNames.map((name) => searchComponent(name, options))
  const spread = spreadOf(data, centred)
  const start = startingVariances(data, model, centred, options, spread)
  const solver = new ModelSolver(model)
  const fitAt = (variances: readonly number[], iterations: number): MixedModelFit => {
    const solved = solver.solve(variances)
    if (!solved) throw new OutOfRange('covariance of y at the variances', 'singular', 'positive definite')
    return presentFit({ data, centred, model, solved }, iterations, design)
  }
  if (components.every(({ scale }) => scale === 'held')) return fitAt(start, 0)
  refuseExactFit(data, model, components, centred)
  const known = refuseUnidentified(model, solver, components, start, spread)
  const tolerance = options.tolerance ?? DEFAULT_TOLERANCE
  const { variances, iterations } = optimiseTwice({ model, solver, components, spread, tolerance }, start, known)
  return fitAt(variances, iterations)
}

/** Designs of the fits that were made here, for fits of the same design. */
const designs = new WeakMap<MixedModelFit, BlockedDesign>()

function designOf(fit: MixedModelFit): BlockedDesign | undefined {
  return designs.get(fit)
}

/** Whether two sets of data differ in y, errors and scales alone: the very same columns and terms, the same rows linked. */
function sameDesign(data: MixedModelData, other: MixedModelData): boolean {
  const [links, others] = [data.errorCovariance ?? [], other.errorCovariance ?? []]
  return (
    data.fixed === other.fixed &&
    data.random === other.random &&
    data.y.length === other.y.length &&
    links.length === others.length &&
    links.every(({ row, other: linked }, k) => row === others[k]!.row && linked === others[k]!.other)
  )
}

function presentFit(state: FittedState, iterations: number, design?: BlockedDesign): MixedModelFit {
  const fit = fittedModel(state, iterations, (rows) => {
    const data = appendRows(state.data, rows)
    checkData(data, false)
    const extended = extendState(state, data)
    if (extended) return presentFit(extended, 0)
    const { variances } = state.solved
    const heldVariances = Object.fromEntries(state.model.componentNames.map((name, g) => [name, variances[g]!]))
    return fitMixedModel(data, { heldVariances })
  })
  if (design) designs.set(fit, design)
  return fit
}

function searchComponent(name: string, options: FitOptions): SearchComponent {
  const prior = options.variancePriors?.[name] ?? { kind: 'flat' as const }
  if (options.heldVariances?.[name] !== undefined) return { scale: 'held', prior }
  return { scale: prior.kind === 'flat' ? 'variance' : 'log', prior }
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
