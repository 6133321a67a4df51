import type { RateModel } from '../../rates/rate-model.js'
import { factorInPlace, invertInPlace } from '../../statistics/linear-algebra/cholesky.js'
import type { RowWeight } from '../../statistics/mixed-model/types.js'
import type { ShiftEvidence } from './panel.js'
import { keyOf, type Place } from './shared-search.js'

/** How far all boats of a place have differed from the fleet all along. */
export interface StandingShift {
  readonly evidence: ShiftEvidence
  readonly score: number
}

/**
 * Lasting shifts of berths and pontoons, which no date tells: judged against the spread of the other berths' effects. With t = D'Py
 * and D'PD over the rows of each berth, the berths' own shifts are estimated at (D'PD)⁻¹·t with the covariance (D'PD)⁻¹, which
 * holds the berths' variance as the fit has it; a berth that is itself far out widened that, so it is taken from the others:
 *
 *     σ² = mean over the other berths of (mode − their mean)² + conditional variance     (one step of expectation and maximisation)
 *
 * @see Searle, Casella, McCulloch, Variance Components (1992), 8.3, for the step
 */
export function standingShifts(model: RateModel, places: readonly Place[]): Map<string, StandingShift> {
  const { fit } = model
  const shifts = new Map<string, StandingShift>()
  if (fit === null) return shifts
  const rowsOf = rowsByBerth(model)
  const effects = new Map((fit.effects.berth ?? []).map((effect) => [effect.level, effect]))
  for (const place of places) {
    const berths = [...place.berths].filter((berth) => rowsOf.has(berth))
    const others = [...effects.values()].filter(({ level }) => !place.berths.has(level))
    if (berths.length === 0 || others.length < LEAST_OTHERS) continue
    const spread = Math.min(model.variances.berth!, spreadOf(others))
    const shift = meanShift(fit.contrasts(berths.map((berth) => rowsOf.get(berth)!)), spread - model.variances.berth!)
    if (shift !== null) shifts.set(keyOf(place), shift)
  }
  return shifts
}

/** Mean square of some effects about their own mean: a place far out pulled the fleet's towards itself. */
function spreadOf(effects: readonly { readonly mode: number; readonly conditionalSd: number }[]): number {
  const middle = effects.reduce((sum, { mode }) => sum + mode, 0) / effects.length
  const squares = effects.reduce((sum, { mode, conditionalSd }) => sum + (mode - middle) ** 2 + conditionalSd ** 2, 0)
  return squares / effects.length
}

/** From fewer other berths nothing is known of how berths differ. Convention. */
const LEAST_OTHERS = 3

/** Square of the relative error of a loss above which it says nothing of a rate: an error as large as the loss. Convention. */
const LARGEST_ERROR = 1

function rowsByBerth(model: RateModel): Map<string, RowWeight[]> {
  const rows = new Map<string, RowWeight[]>()
  model.intervals.forEach(({ context: { exposure } }, row) => {
    if (model.fit!.data.errorVariance[row]! > LARGEST_ERROR) return
    for (const [berth, days] of exposure.byBerth) {
      const own = rows.get(berth) ?? []
      rows.set(berth, own)
      own.push({ row, weight: days / exposure.days })
    }
  })
  return rows
}

/** The shift that some berths have in common, from D'Py and D'PD. */
function meanShift(
  { response, precision: covariance }: { response: Float64Array; precision: Float64Array },
  change: number,
): StandingShift | null {
  const n = response.length
  if (factorInPlace(covariance, n) >= 0) return null
  invertInPlace(covariance, n)
  const shifts = response.map((_, i) => {
    let shift = 0
    for (let j = 0; j < n; j++) shift += covariance[i * n + j]! * response[j]!
    return shift
  })
  for (let i = 0; i < n; i++) covariance[i * n + i]! += change
  if (factorInPlace(covariance, n) >= 0) return null
  invertInPlace(covariance, n)
  let information = 0
  let weighted = 0
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      information += covariance[i * n + j]!
      weighted += covariance[i * n + j]! * shifts[j]!
    }
  }
  if (!(information > 0)) return null
  return { evidence: { response: weighted, information }, score: weighted / Math.sqrt(information) }
}
