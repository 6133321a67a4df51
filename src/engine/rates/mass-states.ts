import { consumptionCoordinate } from '../depletion/consumption-coordinate.js'
import { type FittedAnode, netMassEstimate } from '../depletion/mass-observation.js'
import { UNKNOWN_CORE_SHARE, WEIGHING_ERROR } from '../depletion/weighing-error.js'
import type { ExposureCalendar } from './exposure-calendar.js'
import type { AnodeHistory } from './fleet-history.js'

/** What is known of an anode at one point of its life. */
export interface MassState {
  readonly on: number
  /** Exposure since the first state [d]. */
  readonly exposureDays: number
  /** Consumption since the mass m₀, as observed [g]; negative where error makes it heavier. */
  readonly consumption: number
  /** Variance of the error of this state's mass, in the consumption coordinate [g²]. */
  readonly variance: number
}

/** An anode with its net masses in order; the first state is its fitting, or its first weighing where the fitting is unknown. */
export interface ObservedAnode {
  readonly history: AnodeHistory
  readonly fitted: FittedAnode
  /** Whether m₀ is the mass when fitted, or only the first one known. */
  readonly fromFitting: boolean
  readonly states: readonly MassState[]
}

/**
 * The dated masses of an anode as states in the consumption coordinate. Two states with no exposure between them say the
 * same thing twice and are merged by their precision. `null` where neither a fitting mass nor a scale weighing is known:
 * there is nothing to measure from.
 */
export function observeAnode(history: AnodeHistory, calendar: ExposureCalendar): ObservedAnode | null {
  const start = firstMass(history)
  if (start === null) return null
  const { fitted, fromFitting, on: startOn } = start
  const first: MassState = { on: startOn, exposureDays: 0, consumption: start.consumption, variance: start.sdG ** 2 }
  const states = [first]
  for (const { on, judgement } of history.weighings) {
    if (on < startOn || (on === startOn && !fromFitting)) continue
    const estimate = netMassEstimate(fitted, judgement)
    if (estimate === null) continue
    const state: MassState = {
      on,
      exposureDays: calendar.between(startOn, on).days,
      consumption: consumptionCoordinate(fitted.netMassG, fitted.netMassG, estimate.netMassG),
      variance: estimate.sdG ** 2,
    }
    const last = states[states.length - 1]!
    if (state.exposureDays - last.exposureDays > 0) states.push(state)
    else states[states.length - 1] = merge(last, state)
  }
  return { history, fitted, fromFitting, states }
}

interface FirstMass {
  readonly on: number
  readonly fitted: FittedAnode
  readonly fromFitting: boolean
  readonly consumption: number
  readonly sdG: number
}

function firstMass(history: AnodeHistory): FirstMass | null {
  const firstScale = history.weighings.find((weighing) => weighing.judgement.method === 'scale')
  const gross = history.fittedGrossMassG
  if (gross !== null && (history.fittedOn !== null || firstScale === undefined)) {
    const on = history.fittedOn ?? history.weighings[0]?.on
    if (on === undefined) return null
    const sdG = WEIGHING_ERROR.fittedSdShare * gross
    return { on, fitted: asFitted(history, gross), fromFitting: true, consumption: 0, sdG }
  }
  if (firstScale === undefined || firstScale.judgement.method !== 'scale') return null
  const asNew = asFitted(history, gross ?? firstScale.judgement.grossMassG)
  const estimate = netMassEstimate(asNew, firstScale.judgement)
  if (estimate === null || !(estimate.netMassG > 0)) return null
  const fitted = gross === null ? { ...asNew, netMassG: estimate.netMassG } : asNew
  const consumption = fitted.netMassG - estimate.netMassG
  return { on: firstScale.on, fitted, fromFitting: false, consumption, sdG: estimate.sdG }
}

function asFitted(history: AnodeHistory, grossMassG: number): FittedAnode {
  const coreMassG = history.coreMassG ?? UNKNOWN_CORE_SHARE * grossMassG
  const { alloy, shape, dimensions } = history
  return { netMassG: grossMassG - coreMassG, coreMassG, alloy, shape, dimensions }
}

function merge(a: MassState, b: MassState): MassState {
  const total = 1 / a.variance + 1 / b.variance
  return {
    on: b.on,
    exposureDays: a.exposureDays,
    consumption: (a.consumption / a.variance + b.consumption / b.variance) / total,
    variance: 1 / total,
  }
}
